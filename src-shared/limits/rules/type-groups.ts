import type { FixtureFacts } from '../../solve/fixture-facts.ts';

export interface TypeGroup {
  readonly name: string;
  /** Facts with their index in order of place. */
  readonly members: readonly { readonly facts: FixtureFacts; readonly index: number }[];
}

/** The fixtures of a run by type, in order of first appearance. */
export function groupByType(facts: readonly FixtureFacts[]): TypeGroup[] {
  const groups = new Map<string | null, { facts: FixtureFacts; index: number }[]>();
  facts.forEach((f, index) => {
    const name = f.type?.name ?? f.fixture.type;
    const group = groups.get(name);
    if (group === undefined) groups.set(name, [{ facts: f, index }]);
    else group.push({ facts: f, index });
  });
  return [...groups].map(([name, members]) => ({ name: name ?? 'not given', members }));
}
