/**
 * What a careful engineer reads from the workbooks in `tests/files/arrivals`, and how the program's
 * reading is held against it. Source: the truth files there, written by their makers from the data
 * the workbooks were made of, by someone who did not see the reader.
 */
import { readFileSync } from 'node:fs';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import type { Fixture, Project, Reading } from '../../src-shared/document/project.ts';
import { cellName, type SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { type ReadOptions, readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';

const folder = new URL('../files/arrivals/', import.meta.url);

export type Value = string | number | null;

export interface TrueFixture {
  readonly sheet: string;
  readonly row: number;
  readonly ofRow?: number;
  readonly [key: string]: Value | boolean | undefined;
}

export interface TrueCell {
  readonly sheet: string;
  readonly cell: string;
  readonly key?: string;
  readonly raw?: Value;
  readonly value?: Value;
  readonly why: string;
}

export interface Alternative {
  readonly sheet?: string;
  readonly row?: number;
  readonly place?: number;
  readonly cell?: string;
  readonly key?: string;
  readonly what?: string;
  readonly header?: string;
  readonly values?: readonly Value[];
}

export interface Truth {
  readonly file: string;
  readonly profile: 'north-america' | 'iec';
  readonly scheduleSheets: readonly string[];
  readonly headerRow: Readonly<Record<string, number>>;
  readonly columns: Readonly<Record<string, Readonly<Record<string, string | null>>>>;
  readonly columnLetters: Readonly<Record<string, Readonly<Record<string, string>>>>;
  readonly rowsRead: number;
  readonly rowsSkipped: readonly { sheet: string; row: number; reason: string }[];
  readonly fixtures: readonly TrueFixture[];
  readonly mustBeAReading: readonly TrueCell[];
  readonly mustNotBeFilled: readonly TrueCell[];
  readonly questions: readonly Readonly<Record<string, unknown>>[];
  readonly also: readonly Alternative[];
}

/** The truth of a workbook of the folder, or of a richly furnished one: `../rich/NAME`. */
export function truthOf<T = Truth>(name: string): T {
  return JSON.parse(readFileSync(new URL(`${name}.truth.json`, folder), 'utf8')) as T;
}

export function workbookOf(name: string): SourceWorkbook {
  const file = `${name.slice(name.lastIndexOf('/') + 1)}.xlsx`;
  const read = readSourceFile(readFileSync(new URL(`${name}.xlsx`, folder)), file);
  if (!read.ok || read.kind !== 'workbook') throw new Error(`${file} was not read as a workbook`);
  return read.workbook;
}

export function readArrival(names: readonly string[], options: ReadOptions = {}): Project {
  const result = readSchedule(names.map(workbookOf), options);
  if (!result.ok) throw new Error(`refused: ${JSON.stringify(result.refusal)}`);
  return result.project;
}

/** What the program holds of a fixture, by the truth's keys: of its type and run too. */
export class Held {
  private readonly session: EngineSession;
  private readonly runs: ReadonlyMap<string, Project['runs'][number]>;
  private readonly circuits: ReadonlyMap<string, Project['circuits'][number]>;

  constructor(readonly project: Project) {
    this.session = new EngineSession(project);
    this.runs = new Map(project.runs.map((run) => [run.name, run]));
    this.circuits = new Map(project.circuits.map((circuit) => [circuit.id, circuit]));
  }

  /** Limits broken or near, by id. */
  limits(): ReadonlySet<string> {
    return new Set(this.session.findings.map(({ limit }) => limit));
  }

  private onlyMode(type: string | null): string | null {
    const modes = this.project.types.find(({ name }) => name === type)?.modes ?? [];
    return modes.length === 1 ? (modes[0]?.name ?? null) : null;
  }

  of(fixture: Fixture, key: string): Value {
    const run = this.runs.get(fixture.run ?? '');
    const circuit = this.circuits.get(run?.circuitId ?? '');
    const facts = this.session.factsOf(fixture.id);
    switch (key) {
      case 'spanM':
        return fixture.place === 1 ? (run?.leadInM ?? fixture.spanM) : fixture.spanM;
      case 'homeRunM':
      case 'supplyV':
        return run?.[key] ?? null;
      case 'conductor':
        return run?.conductor?.replace('mm²', 'mm2').replaceAll(' ', '') ?? null;
      case 'panel':
      case 'breakerA':
        return circuit?.[key] ?? null;
      case 'circuit':
        return circuit?.name ?? null;
      case 'mode':
        return fixture.mode ?? this.onlyMode(fixture.type);
      case 'loadW':
      case 'powerFactor':
      case 'footprint':
        return facts?.[key] ?? null;
      default:
        return (fixture as unknown as Record<string, Value>)[key] ?? null;
    }
  }
}

export function sameValue(a: Value, b: Value): boolean {
  if (typeof a === 'number' && typeof b === 'number') {
    return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a), Math.abs(b));
  }
  return a === b;
}

const notAValue = new Set(['sheet', 'row', 'ofRow', 'added']);

/** The fixtures of each source row, in order. */
export function byRow(project: Project): Map<string, Fixture[]> {
  const rows = new Map<string, Fixture[]>();
  for (const fixture of project.fixtures) {
    const key = `${fixture.origin?.sheet}/${fixture.origin?.row}`;
    rows.set(key, [...(rows.get(key) ?? []), fixture]);
  }
  return rows;
}

/** Whether the truth names the value as one a careful engineer could read as well. */
function isAlternative(truth: Truth, at: TrueFixture, key: string, place: Value, value: Value) {
  return truth.also.some(
    (also) =>
      also.key === key &&
      also.values !== undefined &&
      (also.sheet === undefined || also.sheet === at.sheet) &&
      (also.row === undefined || also.row === at.row) &&
      (also.place === undefined || also.place === place) &&
      also.values.some((v) => sameValue(v, value)),
  );
}

/** Every value that is not as in the truth: `Sheet!row key: truth, ours`. */
export function wrongValues(truth: Truth, project: Project): string[] {
  const held = new Held(project);
  const rows = byRow(project);
  const wrong: string[] = [];
  for (const at of truth.fixtures) {
    const fixture = rows.get(`${at.sheet}/${at.row}`)?.[(at.ofRow ?? 1) - 1];
    if (fixture === undefined) {
      wrong.push(`${at.sheet}!${at.row} is not read`);
      continue;
    }
    for (const [key, want] of Object.entries(at)) {
      // A tag the program has to make itself.
      if (key === 'tag' && want === null && at.ofRow !== undefined) continue;
      if (notAValue.has(key) || typeof want === 'boolean' || want === undefined) continue;
      const value = held.of(fixture, key);
      if (sameValue(value, want) || isAlternative(truth, at, key, fixture.place, value)) continue;
      wrong.push(
        `${at.sheet}!${at.row} ${key}: ${JSON.stringify(want)}, ours ${JSON.stringify(value)}`,
      );
    }
  }
  return wrong;
}

function place(cell: string): { column: number; row: number } {
  const [, letters = 'A', row = '1'] = /^([A-Z]+)(\d+)$/u.exec(cell) ?? [];
  let column = 0;
  for (const letter of letters) column = column * 26 + letter.charCodeAt(0) - 64;
  return { column: column - 1, row: Number(row) };
}

export function readingsAt(project: Project, sheet: string, cell: string): readonly Reading[] {
  const { column, row } = place(cell);
  const name = cellName(sheet, row, column);
  return (project.source?.readings ?? []).filter((reading) => reading.cell === name);
}

/** Cells the truth wants in the import report and that are not there. */
export function missingReadings(truth: Truth, project: Project): string[] {
  return truth.mustBeAReading.flatMap(({ sheet, cell, why }) =>
    readingsAt(project, sheet, cell).length > 0 ? [] : [`${sheet}!${cell} (${why})`],
  );
}

/** Cells that must stay unknown and are not. */
export function filledAllTheSame(truth: Truth, project: Project): string[] {
  const held = new Held(project);
  const rows = byRow(project);
  return truth.mustNotBeFilled.flatMap(({ sheet, cell, key, why }) => {
    if (key === undefined) return [];
    const fixtures = rows.get(`${sheet}/${place(cell).row}`) ?? [];
    return fixtures.flatMap((fixture) => {
      const value = held.of(fixture, key);
      return value === null ? [] : [`${sheet}!${cell} ${key}: ${JSON.stringify(value)} (${why})`];
    });
  });
}

/** `Sheet/row: reason` of rows left out. */
export function skippedOf(project: Project): string[] {
  return (project.source?.sheets ?? []).flatMap(({ sheet, rowsSkipped }) =>
    rowsSkipped.map(({ row, reason }) => `${sheet}/${row}: ${reason}`),
  );
}

/** What each header of a sheet was read as. */
export function columnsOf(project: Project, sheet: string): Record<string, string | null> {
  const source = project.source;
  const read = source?.sheets.find((s) => s.sheet === sheet);
  return Object.fromEntries(
    (source?.columns ?? []).flatMap(({ header, columnId }, at) =>
      (read?.columnAt[at] ?? null) === null ? [] : [[header, columnId]],
    ),
  );
}

/** Zero-based column of each header of a sheet, as letters. */
export function lettersOf(project: Project, sheet: string): Record<string, string> {
  const source = project.source;
  const read = source?.sheets.find((s) => s.sheet === sheet);
  return Object.fromEntries(
    (source?.columns ?? []).flatMap(({ header }, at) => {
      const column = read?.columnAt[at] ?? null;
      return column === null ? [] : [[header, cellName('S', 1, column).slice(2, -1)]];
    }),
  );
}
