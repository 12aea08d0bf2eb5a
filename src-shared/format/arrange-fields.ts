import { z } from 'zod';

/** Rebuilds a value with its fields in a fixed order. */
export type Arrange = (value: unknown) => unknown;

function arrangeObject(schema: z.ZodObject): Arrange {
  const fields = Object.entries(schema.shape).map(
    ([name, field]) => [name, arrangerOf(field)] as const,
  );
  return (value) => {
    const record = value as Readonly<Record<string, unknown>>;
    const arranged: Record<string, unknown> = {};
    for (const [name, arrange] of fields) {
      const held = record[name];
      if (held === undefined) continue;
      arranged[name] = arrange === null ? held : arrange(held);
    }
    return arranged;
  };
}

/**
 * The function that puts the fields of every object of `schema` into the schema's order and leaves
 * out what the schema does not name; null when the schema holds no objects. For values of that form.
 */
export function arrangerOf(schema: unknown): Arrange | null {
  if (schema instanceof z.ZodObject) return arrangeObject(schema);
  if (schema instanceof z.ZodArray) {
    const element = arrangerOf(schema.element);
    return element && ((value) => (value as readonly unknown[]).map(element));
  }
  if (schema instanceof z.ZodNullable) {
    const inner = arrangerOf(schema.unwrap());
    return inner && ((value) => (value === null ? null : inner(value)));
  }
  return null;
}
