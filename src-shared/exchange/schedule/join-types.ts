/** Types and modes named in the schedule, joined to the legend; a near miss is never joined. */
import { blankType } from '../../document/blank.ts';
import type { FixtureType } from '../../document/project.ts';
import { indexTypes, nameKey } from '../../solve/fixture-facts.ts';
import type { ColumnPlan } from './plan-columns.ts';
import type { ReadingLog } from './reading-log.ts';
import type { RowDraft } from './row-draft.ts';

interface Teller {
  readonly sheet: string;
  readonly plan: ColumnPlan;
  readonly log: ReadingLog;
}

function bareKey(name: string): string {
  return nameKey(name).replace(/[^\p{L}\p{N}]/gu, '');
}

/** One letter more, less or other; the first letter the same. */
function oneEditApart(a: string, b: string): boolean {
  if (a[0] !== b[0] || Math.abs(a.length - b.length) > 1 || Math.min(a.length, b.length) < 2) {
    return false;
  }
  let at = 0;
  while (at < a.length && a[at] === b[at]) at += 1;
  const rests = [
    [a.slice(at + 1), b.slice(at + 1)],
    [a.slice(at + 1), b.slice(at)],
    [a.slice(at), b.slice(at + 1)],
  ];
  return rests.some(([x, y]) => x === y);
}

/** A legend type whose name is nearly this one; null when none is near. */
export function nearType(name: string, types: readonly FixtureType[]): string | null {
  const bare = bareKey(name);
  const near =
    types.find((type) => bareKey(type.name) === bare) ??
    types.find((type) => oneEditApart(bareKey(type.name), bare));
  return near?.name ?? null;
}

function modeKey(text: string): string {
  return nameKey(text).replace(/[\s._-]|mode|channels?|chs?|slots?/gu, '');
}

/** The mode of a type that a text means by its number of channels alone; null when none or several. */
function meantMode(text: string, type: FixtureType): string | null {
  const key = modeKey(text);
  if (!/^\d+$/u.test(key)) return null;
  const meant = type.modes.filter((mode) => modeKey(mode.name) === key);
  return meant.length === 1 ? (meant[0]?.name ?? null) : null;
}

function tellCell(
  { sheet, plan, log }: Teller,
  row: RowDraft,
  id: 'type' | 'mode',
  value: string,
  confidence: 'likely' | 'guess',
  note: string,
): void {
  const column = plan.read.find((c) => c.id === id)?.column ?? 0;
  const raw = row.source.cells.find((cell) => cell.column === column)?.text ?? '';
  log.add({ sheet, row: row.source.number, column }, raw, id, value, confidence, note);
}

export interface JoinedTypes {
  /** The legend, and a blank record for every type that only the schedule names. */
  readonly types: readonly FixtureType[];
  /** The mode in force of a row: the legend's spelling where that is meant. */
  readonly modeOf: (row: RowDraft) => string | null;
}

/** Joins by name, blind to case and outer blanks. One reading for each type the legend lacks. */
export function joinTypes(
  legend: readonly FixtureType[],
  rows: readonly RowDraft[],
  teller: Teller,
): JoinedTypes {
  const known = indexTypes(legend);
  const lacking = new Map<string, { name: string; first: RowDraft; count: number }>();
  const modes = new Map<RowDraft, string>();
  for (const row of rows) {
    const { type: name, mode } = row.text;
    if (name === undefined) continue;
    const key = nameKey(name);
    const type = known.get(key);
    if (type === undefined) {
      const entry = lacking.get(key);
      if (entry === undefined) lacking.set(key, { name, first: row, count: 1 });
      else entry.count += 1;
      continue;
    }
    if (mode === undefined || type.modes.some((m) => nameKey(m.name) === nameKey(mode))) continue;
    const meant = meantMode(mode, type);
    if (meant === null) continue;
    modes.set(row, meant);
    tellCell(teller, row, 'mode', meant, 'likely', `mode ${meant} of type ${type.name}`);
  }
  if (legend.length > 0) {
    for (const { name, first, count } of lacking.values()) {
      const near = nearType(name, legend);
      const rowsWord = count === 1 ? '1 row' : `${count} rows`;
      const note =
        near === null
          ? `type ${name} (${rowsWord}) is not in the legend`
          : `type ${name} (${rowsWord}) is not in the legend; ${near} is near but was not taken for it`;
      tellCell(teller, first, 'type', name, 'guess', note);
    }
  }
  return {
    types: [...legend, ...[...lacking.values()].map(({ name }) => blankType(name))],
    modeOf: (row) => modes.get(row) ?? row.text.mode ?? null,
  };
}
