/**
 * The workbooks of `tests/files/arrivals`, each read whole and held against its truth, fixture by
 * fixture. Source: the truth files (see `truth.ts`). Where the program reads otherwise on purpose,
 * the case says so and why.
 */
import { describe, expect, it } from 'vitest';
import type { ImportQuestion } from '../../src-shared/document/project.ts';
import { checkReport } from '../../src-shared/exchange/check-report.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import {
  columnsOf,
  filledAllTheSame,
  Held,
  lettersOf,
  missingReadings,
  readArrival,
  readingsAt,
  skippedOf,
  type Truth,
  truthOf,
  wrongValues,
} from './truth.ts';

interface OnPurpose {
  /** Lines of `wrongValues` that are as they should be. */
  readonly values?: readonly string[];
  /** Cells that need no reading of their own. */
  readonly readings?: readonly string[];
  /** `Sheet: header → id` read otherwise. */
  readonly columns?: Readonly<Record<string, string | null>>;
  readonly questions: readonly ImportQuestion['id'][];
}

const jobs: ReadonlyMap<string, OnPurpose> = new Map<string, OnPurpose>([
  ['wrenhallow-gatehouse', { questions: [] }],
  [
    'osier-footbridge',
    {
      // The row states no universe: the truth allows the run's, or unknown.
      values: Array.from({ length: 4 }, () => 'Schedule!9 universe: 1, ours null'),
      questions: [],
    },
  ],
  [
    'meridew-tower-crown',
    {
      // "Access" is a header of the column Reach; the truth carries it along.
      columns: { 'L44: Access': 'reach' },
      questions: ['sheets', 'hidden-rows'],
    },
  ],
  [
    'selkie-forecourt-rev-c',
    {
      // A tag that stands twice is read plainly; the limit duplicate-tag shows it (see below).
      readings: ['Rev C!A34', 'Rev C!A35'],
      questions: [],
    },
  ],
  ['tarnmoor-patch', { questions: ['universe-base'] }],
  // Values beside the table, under no header, are carried along.
  [
    'tarnmoor-install',
    { columns: { 'Install: Column S': null }, questions: ['hidden-rows', 'universe-base'] },
  ],
]);

describe.each([...jobs.keys()])('%s', (name) => {
  const truth = truthOf(name);
  const project = readArrival([name], { profile: truth.profile });
  const onPurpose = jobs.get(name);

  it('is read from the sheets and under the header rows of the truth', () => {
    const read = project.source?.sheets.map(({ sheet, headerRow }) => [sheet, headerRow]);
    expect(read).toEqual(truth.scheduleSheets.map((sheet) => [sheet, truth.headerRow[sheet]]));
  });

  it('has every header where it stands, read as what it is', () => {
    for (const sheet of truth.scheduleSheets) {
      const others = Object.entries(onPurpose?.columns ?? {}).flatMap(([key, id]) =>
        key.startsWith(`${sheet}: `) ? [[key.slice(sheet.length + 2), id] as const] : [],
      );
      expect(columnsOf(project, sheet)).toEqual({
        ...truth.columns[sheet],
        ...Object.fromEntries(others),
      });
      expect(lettersOf(project, sheet)).toMatchObject(truth.columnLetters[sheet] ?? {});
    }
  });

  it('has as many rows read, and the others left out with the reason', () => {
    const rows = project.source?.sheets.reduce((sum, { rowsRead }) => sum + rowsRead, 0);
    expect(rows).toBe(truth.rowsRead);
    // "hidden by a filter" is hidden too.
    const skipped = skippedOf(project).map((line) => line.replace(' by a filter', ''));
    expect(skipped.sort()).toEqual(
      truth.rowsSkipped.map(({ sheet, row, reason }) => `${sheet}/${row}: ${reason}`).sort(),
    );
    expect(project.fixtures).toHaveLength(truth.fixtures.length);
  });

  it('gives every fixture the values of the truth', () => {
    expect(wrongValues(truth, project)).toEqual(onPurpose?.values ?? []);
  });

  it('lists every cell that was not plain', () => {
    const missing = missingReadings(truth, project).map((line) => line.replace(/ \(.*/u, ''));
    expect(missing).toEqual(onPurpose?.readings ?? []);
  });

  it('leaves unknown what nobody has stated', () => {
    expect(filledAllTheSame(truth, project)).toEqual([]);
  });

  it('asks what only the engineer knows, and nothing else', () => {
    expect(project.source?.questions.map(({ id }) => id)).toEqual(onPurpose?.questions);
    expect(project.source?.questions.every(({ answered }) => !answered)).toBe(true);
  });

  it('makes no tag twice and traces every fixture to its row', () => {
    const made = project.fixtures.filter(({ id }) => id !== '').map(({ id }) => id);
    expect(new Set(made).size).toBe(project.fixtures.length);
    for (const { origin } of project.fixtures) {
      expect(truth.scheduleSheets).toContain(origin?.sheet);
      expect(origin?.row).toBeGreaterThan(truth.headerRow[origin?.sheet ?? ''] ?? 0);
    }
  });

  it('is the same again with the answers it was read with', () => {
    const answers = project.source?.answers;
    expect(answers).toBeDefined();
    if (answers === undefined) return;
    expect(readArrival([name], { profile: truth.profile, answers })).toEqual(project);
  });
});

describe('single truths', () => {
  it('Selkie: the tag that stands twice is found by its limit', () => {
    expect(new Held(readArrival(['selkie-forecourt-rev-c'])).limits()).toContain('duplicate-tag');
  });

  it('Selkie: comments, dates, strikes and colours are told with what they offer', () => {
    const project = readArrival(['selkie-forecourt-rev-c']);
    const told = (cell: string) => readingsAt(project, 'Rev C', cell);
    const offered = (cell: string) => told(cell).flatMap(({ offer }) => offer ?? []);
    expect(offered('N17')).toEqual(['9ch']);
    expect(offered('O17')).toEqual(['9']);
    expect([...offered('A38'), ...offered('A43')]).toEqual(['3-1', '3-5']);
    expect(offered('H27')).toEqual(['42']);
    // Comments that say nothing of the value offer nothing.
    for (const cell of ['J21', 'C29']) {
      expect(told(cell)).not.toEqual([]);
      expect(offered(cell)).toEqual([]);
    }
    const added = project.fixtures.filter(({ tag }) => tag?.startsWith('S-C'));
    expect(added).toHaveLength(3);
    for (const { origin } of added)
      expect(
        told(`A${origin?.row}`)
          .map(({ note }) => note)
          .join(),
      ).toContain('coloured');
  });

  it('Meridew: the check command’s report joins the sheets, its contract unchanged', () => {
    const project = readArrival(['meridew-tower-crown']);
    const { input } = checkReport(new EngineSession(project), 'meridew-tower-crown.xlsx');
    expect(input).toMatchObject({ sheet: 'L41', headerRow: 4, rowsRead: 106 });
    expect(input.rowsSkipped).toContainEqual({ row: 26, reason: 'hidden (sheet L43)' });
    expect(input.readings.every((reading) => !('offer' in reading))).toBe(true);
    expect(input.columns).toMatchObject({ Load: 'load', 'Load (VA)': 'load', Ckt: 'circuit' });
  });

  it('Tarnmoor: hidden rows are read when asked for', () => {
    const truth = truthOf<Truth & { readonly fixturesIfHiddenRead: Truth['fixtures'] }>(
      'tarnmoor-install',
    );
    const project = readArrival(['tarnmoor-install'], { hidden: 'read' });
    const all = { ...truth, fixtures: [...truth.fixtures, ...truth.fixturesIfHiddenRead] };
    expect(wrongValues(all, project)).toEqual([]);
    expect(project.fixtures).toHaveLength(45);
  });

  it('Meridew: hidden rows are two and three fixtures of runs of their own', () => {
    const project = readArrival(['meridew-tower-crown'], { hidden: 'read' });
    expect(project.fixtures).toHaveLength(106 + 5);
    const added = project.fixtures.filter(({ run }) => run?.startsWith('KB'));
    expect(added.map(({ area }) => area)).toEqual(Array(5).fill('North crown'));
  });

  it('Meridew: one sheet alone, when the engineer says so', () => {
    const answers = readArrival(['meridew-tower-crown']).source?.answers;
    if (answers === undefined) throw new Error('no source');
    const questions = [{ id: 'sheets' as const, file: 0, value: 'one' }];
    const project = readArrival(['meridew-tower-crown'], { answers: { ...answers, questions } });
    expect(project.source?.sheets).toHaveLength(1);
    const named = { ...answers, sheets: [{ file: 0, sheet: 'L42' }] };
    const second = readArrival(['meridew-tower-crown'], { answers: named });
    expect(second.source?.sheets.map(({ sheet }) => sheet)).toEqual(['L42']);
    expect(second.fixtures).toHaveLength(26);
  });
});
