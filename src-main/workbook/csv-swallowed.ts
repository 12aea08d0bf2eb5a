/**
 * Tells whether a cell over several lines has swallowed rows of the table: a quotation mark too
 * many joins all lines up to the next one.
 * @param width fields of the widest record so far
 */
export function looksSwallowed(text: string, separator: string, width: number): boolean {
  if (width < 3 || !/[\r\n]/.test(text)) return false;
  const [, ...lines] = text.split(/\r\n|\n|\r/);
  const needed = Math.max(2, Math.ceil((width - 1) / 2));
  return lines.some((line) => line.split(separator).length - 1 >= needed);
}
