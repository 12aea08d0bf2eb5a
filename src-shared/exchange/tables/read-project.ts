/** The project sheet: a key in one cell, its value in the next. */
import type { ProfileId, ProjectSettings } from '../../document/project.ts';
import type { SourceCell, SourceRow, SourceSheet } from '../../document/source-workbook.ts';
import type { LengthUnit } from '../../units/length.ts';
import { parseQuantity } from '../../units/parse-quantity.ts';
import type { QuantityKind } from '../../units/quantity.ts';
import { type CellReading, refused, told } from '../schedule/cell-reading.ts';
import { cleanText, isBlank, isDash, looseKey, textOf, whyNoValue } from '../schedule/cell-text.ts';
import { headerWords } from '../schedule/header-words.ts';
import { readNamedConductor } from '../schedule/read-text-cell.ts';
import type { ReadingLog } from '../schedule/reading-log.ts';
import { type ProjectKey, projectKeys } from '../sheet-names.ts';
import { truthOf } from './table-reader.ts';

export interface ProjectWords {
  readonly name: string | null;
  readonly revision: string | null;
  /** Null: the file does not say. */
  readonly profile: ProfileId | null;
  readonly displayUnit: LengthUnit | null;
  readonly settings: Omit<ProjectSettings, 'profile' | 'displayUnit'>;
  /** The file names a line of the project, or says that there is none. */
  readonly lineStated: boolean;
}

const words = new Map<ProjectKey, readonly string[]>([
  ['name', ['project', 'project name', 'job', 'job name']],
  ['revision', ['revision', 'rev']],
  ['profile', ['profile', 'limits', 'set of limits']],
  ['supplyTolerance', ['supply tolerance', 'voltage tolerance', 'supply tolerance both ways']],
  ['branchDrop', ['branch drop limit', 'branch drop', 'voltage drop limit', 'drop limit']],
  ['branchDropBinding', ['branch drop binding', 'branch drop limit binding', 'drop limit binding']],
  ['continuousFactor', ['continuous factor', 'continuous load factor']],
  ['defaultLine', ['line', 'default line', 'line of the project']],
  ['homeRunConductor', ['home run conductor', 'home run wire', 'home run cable', 'home run size']],
  ['exactResistance', [headerWords(projectKeys.exactResistance)]],
  ['exactReactance', [headerWords(projectKeys.exactReactance)]],
  ['displayUnit', ['display unit', 'unit of length', 'length unit', 'units']],
]); // biome-ignore format: a table

const namedSheets = ['project', 'job', 'project data', 'job data', 'settings'];

interface Entry {
  readonly row: SourceRow;
  readonly cell: SourceCell;
}
type Entries = ReadonlyMap<ProjectKey, Entry>;

/** A row whose value was not used, and why. */
interface Unused extends Entry {
  readonly note: string;
}

/** Words above the keys, where the sheet has a header. */
const headings = ['key', 'item', 'setting', 'settings', 'field', 'name', 'property', 'what'];

function entriesOf(sheet: SourceSheet): { entries: Entries; unused: Unused[] } {
  const entries = new Map<ProjectKey, Entry>();
  const unused: Unused[] = [];
  for (const row of sheet.rows.slice(0, 200)) {
    const [first, second] = row.cells.filter((cell) => !isBlank(cell));
    if (first === undefined || second === undefined || first.kind !== 'text') continue;
    const written = textOf(first);
    const key = headerWords(written);
    const id = [...words].find(([, list]) => list.includes(key))?.[0];
    if (id !== undefined && !entries.has(id)) entries.set(id, { row, cell: second });
    else if (id !== undefined || !headings.includes(key)) {
      const why = id === undefined ? 'is not known here' : 'stands twice, the first one holds';
      unused.push({ row, cell: second, note: `"${written}" ${why}: the value was not used` });
    }
  }
  return { entries, unused };
}

/** True when a sheet holds the project's data: by its name, or by the keys in it. */
export function isProjectSheet(sheet: SourceSheet): boolean {
  const { entries } = entriesOf(sheet);
  if (namedSheets.includes(looseKey(sheet.name))) return entries.size > 0;
  return entries.size >= 3 && entries.has('profile');
}

class ProjectReader {
  private readonly entries: Entries;
  constructor(
    private readonly sheet: SourceSheet,
    private readonly log: ReadingLog,
  ) {
    const { entries, unused } = entriesOf(sheet);
    this.entries = entries;
    for (const one of unused) this.take(one, told<string>(null, 'guess', one.note));
  }

  private take<T extends string | number>(
    { row, cell }: Entry,
    reading: CellReading<T>,
    column: string | null = null,
  ): T | null {
    const place = { sheet: this.sheet.name, row: row.number, column: cell.column };
    return this.log.take(place, cell.text, column, reading);
  }

  text(key: ProjectKey): string | null {
    const entry = this.entries.get(key);
    if (entry === undefined) return null;
    const why = whyNoValue(entry.cell);
    if (why !== null) return this.take(entry, refused(why));
    const text = textOf(entry.cell);
    return text === '' || isDash(text) ? null : text;
  }

  /** One of a set of words. */
  choice<T extends string>(
    key: ProjectKey,
    choose: (word: string) => T | null,
    write: string,
  ): T | null {
    const text = this.text(key);
    const entry = this.entries.get(key);
    if (text === null || entry === undefined) return null;
    const value = choose(text.toLowerCase());
    return value ?? this.take(entry, refused(write));
  }

  truth(key: ProjectKey): boolean | null {
    const entry = this.entries.get(key);
    if (entry === undefined || this.text(key) === null) return null;
    const value = truthOf(entry.cell);
    if (value === null) this.take(entry, refused('write yes or no'));
    return value;
  }

  /** A number of the file in base units; text may carry its unit. Never negative. */
  quantity(key: ProjectKey, kind: QuantityKind, unit: string | null): number | null {
    const entry = this.entries.get(key);
    if (entry === undefined || this.text(key) === null) return null;
    const { cell } = entry;
    const shownPercent = typeof cell.value === 'number' && /%$/u.test(cleanText(cell.text));
    if (typeof cell.value === 'number' && cell.kind === 'number') {
      // A cell with a percent format holds the fraction.
      const value = shownPercent && kind === 'percent' ? cell.value * 100 : cell.value;
      return value < 0 ? this.take(entry, refused('it cannot be negative')) : value;
    }
    const read = parseQuantity(cleanText(cell.text), kind, {
      defaultUnit: unit,
      decimal: 'either',
    });
    if (!read.ok) return this.take(entry, refused(read.reason));
    return read.value < 0 ? this.take(entry, refused('it cannot be negative')) : read.value;
  }

  /** A part of one, or in percent. */
  factor(key: ProjectKey): number | null {
    const text = this.text(key);
    const cell = this.entries.get(key)?.cell;
    if (text === null || cell === undefined) return null;
    if (typeof cell.value !== 'number' && text.includes('%')) {
      const percent = this.quantity(key, 'percent', '%');
      return percent === null ? null : percent / 100;
    }
    return this.quantity(key, 'number', null);
  }

  conductor(profile: ProfileId): string | null {
    const entry = this.entries.get('homeRunConductor');
    if (entry === undefined || this.text('homeRunConductor') === null) return null;
    return this.take(entry, readNamedConductor(entry.cell, null, profile), 'conductor');
  }
}

function profileOf(word: string): ProfileId | null {
  if (/^(?:north[- ]?america|na|nec)$/u.test(word)) return 'north-america';
  return /^(?:iec|europe)$/u.test(word) ? 'iec' : null;
}

function unitOf(word: string): LengthUnit | null {
  if (/^(?:ft|foot|feet|')$/u.test(word)) return 'ft';
  return /^(?:m|met(?:re|er)s?)$/u.test(word) ? 'm' : null;
}

/** Reads the project sheet; every value null where there is no such sheet. `fallback`: profile when the file names none. */
export function readProjectSheet(
  sheet: SourceSheet | null,
  log: ReadingLog,
  fallback: ProfileId,
): ProjectWords {
  const reader = new ProjectReader(sheet ?? { name: '', hidden: false, rows: [], merges: [] }, log);
  const profile = reader.choice('profile', profileOf, 'profiles are north-america and iec');
  const defaultLine = reader.text('defaultLine');
  return {
    name: reader.text('name'),
    revision: reader.text('revision'),
    profile,
    displayUnit: reader.choice('displayUnit', unitOf, 'lengths are shown in ft or m'),
    lineStated: defaultLine !== null,
    settings: {
      supplyTolerancePct: reader.quantity('supplyTolerance', 'percent', '%'),
      branchDropPct: reader.quantity('branchDrop', 'percent', '%'),
      branchDropBinding: reader.truth('branchDropBinding'),
      continuousFactor: reader.factor('continuousFactor'),
      defaultLine,
      homeRunConductor: reader.conductor(profile ?? fallback),
      exactOhmPerKm: reader.quantity('exactResistance', 'resistancePerLength', 'ohm/km'),
      exactReactanceOhmPerKm: reader.quantity('exactReactance', 'resistancePerLength', 'ohm/km'),
    },
  };
}
