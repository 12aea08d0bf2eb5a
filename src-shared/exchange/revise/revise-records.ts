/** Types, lines and panels after a revision. */
import type { TableName } from '../../document/change.ts';
import type { FixtureType, Line, Supply } from '../../document/project.ts';
import { nameKey } from '../../solve/fixture-facts.ts';
import type { Difference } from './difference.ts';
import { reviseFields, same } from './three-way.ts';

interface Named {
  readonly name: string;
}

export interface RevisedRecords<R> {
  readonly records: readonly R[];
  readonly differences: readonly Difference[];
}

const never = (): boolean => false;

/**
 * The records of one table: what only the file changed is taken. A record that is no longer in the
 * file goes unless the engineer has changed it or `isUsed` says that something still names it.
 */
export function reviseRecords<R extends FixtureType | Line | Supply>(
  table: TableName,
  base: readonly R[],
  current: readonly R[],
  revised: readonly R[],
  isUsed: (name: string) => boolean,
): RevisedRecords<R> {
  const byName = (list: readonly (R & Named)[]) => new Map(list.map((r) => [nameKey(r.name), r]));
  const [before, after] = [byName(base), byName(revised)];
  const differences: Difference[] = [];
  const records: R[] = [];
  const has = new Set<string>();
  const whole = { table, field: null, column: null };
  for (const record of current) {
    const key = nameKey(record.name);
    has.add(key);
    const [was, now] = [before.get(key), after.get(key)];
    if (now !== undefined) {
      const fields = Object.keys(now) as (keyof R & string)[];
      const names = { key: record.name, name: record.name };
      const revision = reviseFields<R>(
        fields.filter((field) => field !== 'name'),
        { table, ...names, base: was ?? now, current: record, revised: now, isLocked: never },
      );
      records.push(revision.record);
      differences.push(...revision.differences);
      continue;
    }
    const goes = was !== undefined && same(was, record) && !isUsed(record.name);
    if (!goes) records.push(record);
    else {
      const said = { ...whole, key: record.name, name: record.name, was: record, now: null };
      differences.push({ ...said, kind: 'removed', note: '' });
    }
  }
  for (const record of revised) {
    const key = nameKey(record.name);
    // One the engineer has taken out stays out, unless a fixture or run of the file needs it.
    if (has.has(key) || (before.has(key) && !isUsed(record.name))) continue;
    records.push(record);
    const said = { ...whole, key: record.name, name: record.name, was: null, now: record };
    differences.push({ ...said, kind: 'added', note: '' });
  }
  return { records, differences };
}
