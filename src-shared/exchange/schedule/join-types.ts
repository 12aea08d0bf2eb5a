/** Types and modes named in the schedule, joined to the legend; a near miss is never joined. */
import { blankType } from '../../document/blank.ts';
import type { FixtureType } from '../../document/project.ts';
import { indexTypes, nameKey } from '../../solve/fixture-facts.ts';
import type { RowDraft } from './row-draft.ts';
import { tellRow } from './tell-row.ts';

function bareKey(name: string): string {
  return nameKey(name).replace(/[^\p{L}\p{N}]/gu, '');
}

/** One letter more, less or other; the first letter the same. Another digit is another type. */
function oneEditApart(a: string, b: string): boolean {
  if (a[0] !== b[0] || Math.abs(a.length - b.length) > 1 || Math.min(a.length, b.length) < 2) {
    return false;
  }
  let at = 0;
  while (at < a.length && a[at] === b[at]) at += 1;
  const isLetter = (sign: string | undefined) => sign !== undefined && /\p{L}/u.test(sign);
  const other = a.slice(at + 1) === b.slice(at + 1) && (isLetter(a[at]) || isLetter(b[at]));
  const more = a.slice(at + 1) === b.slice(at) && isLetter(a[at]);
  const less = a.slice(at) === b.slice(at + 1) && isLetter(b[at]);
  return other || more || less;
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

export interface JoinedTypes {
  /** The legend, and a blank record for every type that only the schedule names. */
  readonly types: readonly FixtureType[];
  /** The type of a row, in the legend's spelling. */
  readonly typeOf: (row: RowDraft) => string | null;
  /** The mode in force of a row: the legend's spelling where that is meant. */
  readonly modeOf: (row: RowDraft) => string | null;
}

interface Lacking {
  readonly name: string;
  readonly first: RowDraft;
  count: number;
}

/** A name that is the legend's but for capitals: taken for it, told; another type may be as near. */
function tellSpelling(row: RowDraft, name: string, type: FixtureType): void {
  const note = `type ${type.name} of the legend, written ${name} here`;
  tellRow(row, 'type', { value: type.name, confidence: 'guess', note });
}

function tellLacking({ name, first, count }: Lacking, legend: readonly FixtureType[]): void {
  const near = nearType(name, legend);
  const rowsWord = count === 1 ? '1 row' : `${count} rows`;
  const lacks = `type ${name} (${rowsWord}) is not in the legend`;
  const note = near === null ? lacks : `${lacks}; ${near} is near but was not taken for it`;
  tellRow(first, 'type', { value: name, confidence: 'guess', note, offer: near ?? undefined });
}

/** Joins by name, blind to case and outer blanks. One reading for each type the legend lacks. */
export function joinTypes(legend: readonly FixtureType[], rows: readonly RowDraft[]): JoinedTypes {
  const known = indexTypes(legend);
  const lacking = new Map<string, Lacking>();
  const types = new Map<RowDraft, string>();
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
    if (name.trim() !== type.name.trim()) {
      types.set(row, type.name);
      tellSpelling(row, name, type);
    }
    if (mode === undefined || type.modes.some((m) => nameKey(m.name) === nameKey(mode))) continue;
    const meant = meantMode(mode, type);
    if (meant === null) continue;
    modes.set(row, meant);
    const note = `mode ${meant} of type ${type.name}`;
    tellRow(row, 'mode', { value: meant, confidence: 'likely', note });
  }
  if (legend.length > 0) for (const entry of lacking.values()) tellLacking(entry, legend);
  return {
    types: [...legend, ...[...lacking.values()].map(({ name }) => blankType(name))],
    typeOf: (row) => types.get(row) ?? row.text.type ?? null,
    modeOf: (row) => modes.get(row) ?? row.text.mode ?? null,
  };
}
