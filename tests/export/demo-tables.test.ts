/**
 * The tables of the demo job. Numbers per run, planted mistakes and counts: the demo's own page
 * (solved independently of the program, constant-power phasors; installed lengths by hand).
 */
import { describe, expect, it } from 'vitest';
import { assumptionsTable } from '../../src-shared/exchange/export/assumptions-table.ts';
import { circuitsTable } from '../../src-shared/exchange/export/circuits-table.ts';
import { FindingMarks } from '../../src-shared/exchange/export/finding-marks.ts';
import { findingsTable } from '../../src-shared/exchange/export/findings-table.ts';
import { patchTable } from '../../src-shared/exchange/export/patch-table.ts';
import { runsTable } from '../../src-shared/exchange/export/runs-table.ts';
import { cautions, planningAidSentence } from '../../src-shared/exchange/export/safety-words.ts';
import { ScheduleLayout } from '../../src-shared/exchange/export/schedule-layout.ts';
import { scheduleTable } from '../../src-shared/exchange/export/schedule-table.ts';
import { takeoffTable } from '../../src-shared/exchange/export/takeoff-table.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { demoJob } from './demo-job.ts';
import { columnOf, headersOf, markAt, valueAt, wordsOf } from './table-reading.ts';

const project = demoJob();
const session = new EngineSession(project);
const marks = new FindingMarks(session);
const schedule = scheduleTable(project, session, marks);
const runs = runsTable(project, session, marks);

// Run, head amps at low, nominal, high supply, last volts nominal, drop %, installed ft.
const demoRuns = [
  ['A1', 8.6493, 8.1863, 7.7718, 199.981, 3.855, 267],
  ['A2', 4.2082, 3.9943, 3.8012, 206.015, 0.954, 132],
  ['A3', 4.2203, 4.0046, 3.8101, 205.482, 1.211, 132],
  ['B1', 5.6391, 5.3476, 5.0851, 340.313, 1.927, 375],
  ['C1', 11.1145, 10.5206, 9.9888, 335.003, 3.457, 225],
  ['D1', 3.1651, 3.0039, 2.8585, 205.918, 1.001, 166],
] as const;

describe('the schedule', () => {
  it('has the file’s columns and rows first, as they were', () => {
    expect(headersOf(schedule).slice(0, 4)).toEqual(['Tag', 'Type', 'Area', 'Run']);
    expect(columnOf(schedule, 'Tag')).toEqual(project.fixtures.map((f) => f.tag));
    expect(columnOf(schedule, 'Start').slice(0, 3)).toEqual([1, 6, 11]);
    const columns = project.source?.columns.length ?? 0;
    schedule.rows.forEach((row, i) => {
      const raw = project.fixtures[i]?.origin?.cells;
      expect(
        row
          .slice(0, columns)
          .map((cell) => (cell !== null && typeof cell === 'object' ? cell.value : cell)),
      ).toEqual(raw);
    });
  });

  it.each(demoRuns)(
    '%s: solved numbers at the last fixture',
    (run, _low, _nominal, _high, volts, drop, feet) => {
      const last = project.fixtures.filter((f) => f.run === run).at(-1)?.tag ?? '';
      expect(valueAt(schedule, 'Tag', last, 'Volts here (V)')).toBeCloseTo(volts, 3);
      expect(valueAt(schedule, 'Tag', last, 'Drop (%)')).toBeCloseTo(drop, 3);
      expect(valueAt(schedule, 'Tag', last, 'Cable so far (ft)')).toBeCloseTo(feet, 9);
    },
  );

  it('says which leads lie in a span: fewest joints, the lead-in cut at the box', () => {
    // By hand: 12 ft of 2, 8, 15, 30 by fewest joints is one 15; the lead-in of 12 comes from a 30.
    expect(valueAt(schedule, 'Tag', 'A-02', 'Leads in span (ft)')).toBe('15');
    expect(valueAt(schedule, 'Tag', 'A-01', 'Leads in span (ft)')).toBe('30, cut');
  });

  it('marks the wrong voltage on the twelve fixtures of C1, with the finding in full', () => {
    for (let n = 1; n <= 12; n += 1) {
      const mark = markAt(schedule, 'Tag', `C-${String(n).padStart(2, '0')}`, 'Supply V');
      expect(mark.severity).toBe('stop');
      expect(mark.note).toContain('S stop: Wrong voltage');
      expect(mark.note).toContain('Basis:');
      expect(mark.note).toContain('Try:');
    }
  });

  it('gives a cell with several findings the worst shade and all notes', () => {
    const mark = markAt(schedule, 'Tag', 'A-18', 'Findings');
    expect(mark.severity).toBe('stop');
    expect(mark.value).toBe('S Run length, B Circuit load, B Branch drop');
  });

  it('shades no row for a finding that points elsewhere', () => {
    expect(markAt(schedule, 'Tag', 'A-20', 'Findings')).toMatchObject({
      value: 'B Circuit load',
      severity: null,
    });
    expect(valueAt(schedule, 'Tag', 'C-02', 'Findings')).not.toContain('overlap');
  });

  it('proposes nothing where every address is given', () => {
    expect(headersOf(schedule)).not.toContain('Proposed universe');
    expect(valueAt(schedule, 'Tag', 'B-19', 'Last address')).toBe(99);
  });

  it('is for review only while a stop is open', () => {
    expect(schedule.lead.join(' ')).toContain('For review only, not for construction.');
  });
});

describe('a schedule without addresses', () => {
  const bare = {
    ...project,
    fixtures: project.fixtures.map((f) =>
      f.run === 'B1' ? { ...f, universe: null, address: null } : f,
    ),
  };
  const table = scheduleTable(bare, new EngineSession(bare));

  it('has proposals in columns of their own and leaves the file’s own empty', () => {
    expect(valueAt(table, 'Tag', 'B-01', 'Start')).toBeNull();
    expect(valueAt(table, 'Tag', 'B-01', 'Proposed universe')).toBe(4);
    expect(valueAt(table, 'Tag', 'B-01', 'Proposed start address')).toBe(1);
    expect(valueAt(table, 'Tag', 'B-02', 'Proposed start address')).toBe(6);
    expect(valueAt(table, 'Tag', 'A-01', 'Proposed start address')).toBeNull();
  });

  it('says in the patch which addresses are proposed', () => {
    const live = new EngineSession(bare);
    const patch = patchTable(bare, live, new FindingMarks(live));
    expect(valueAt(patch, 'Tag', 'B-01', 'Proposed?')).toBe('proposed');
    expect(valueAt(patch, 'Tag', 'A-01', 'Proposed?')).toBeNull();
  });
});

describe('a run without an operating point', () => {
  const heavy = {
    ...project,
    types: project.types.map((t) => (t.name === 'RP4' ? { ...t, loadW: 4000 } : t)),
  };
  const live = new EngineSession(heavy);
  const table = scheduleTable(heavy, live);

  it('has no numbers, and the finding', () => {
    for (const header of ['Volts here (V)', 'Own current (A)', 'Through current (A)', 'Drop (%)']) {
      expect(valueAt(table, 'Tag', 'D-05', header), header).toBeNull();
    }
    expect(valueAt(table, 'Tag', 'D-01', 'Findings')).toContain('No operating point');
    const row = runsTable(heavy, live, new FindingMarks(live));
    expect(valueAt(row, 'Run', 'D1', 'Solved?')).toBe('no operating point');
    expect(valueAt(row, 'Run', 'D1', 'Amps, nominal (A)')).toBeNull();
  });
});

describe('runs', () => {
  it.each(demoRuns)('%s as the demo says', (run, low, nominal, high, volts, drop, feet) => {
    const at = (header: string) => valueAt(runs, 'Run', run, header);
    expect(at('Amps, low supply (A)')).toBeCloseTo(low, 4);
    expect(at('Amps, nominal (A)')).toBeCloseTo(nominal, 4);
    expect(at('Amps, high supply (A)')).toBeCloseTo(high, 4);
    expect(at('Last volts, nominal (V)')).toBeCloseTo(volts, 3);
    expect(at('Worst drop (%)')).toBeCloseTo(drop, 3);
    expect(at('Installed (ft)')).toBeCloseTo(feet, 9);
    expect(at('Solved?')).toBe('yes');
  });

  it('mark the cell a limit is broken in', () => {
    expect(markAt(runs, 'Run', 'C1', 'Amps, nominal (A)').severity).toBe('stop');
    expect(markAt(runs, 'Run', 'A1', 'Installed (ft)').severity).toBe('stop');
    expect(markAt(runs, 'Run', 'A2', 'Installed (ft)').severity).toBeNull();
    expect(valueAt(runs, 'Run', 'B1', 'Universe')).toBe('2, 3');
    expect(valueAt(runs, 'Run', 'A1', 'Slots used')).toBe(90);
    // Six share sets of two: twelve fixtures of four slots take 24.
    expect(valueAt(runs, 'Run', 'C1', 'Slots used')).toBe(24);
  });

  it('add up by circuit as phasors: 16.185 A against 16.0', () => {
    const circuits = circuitsTable(project, session, marks);
    const mark = markAt(circuits, 'Circuit', '1,3', 'Amps, nominal (A)');
    expect(mark.value).toBeCloseTo(16.185, 3);
    expect(mark.severity).toBe('breach');
    expect(valueAt(circuits, 'Circuit', '1,3', 'Allowed (A)')).toBe(16);
    expect(valueAt(circuits, 'Circuit', '5,7', 'Leakage (mA)')).toBeCloseTo(8.1, 9);
  });
});

describe('findings', () => {
  const table = findingsTable(project, session, new ScheduleLayout(project, schedule));

  it('are one row each, worst first, with cells here and in the source', () => {
    expect(table.rows).toHaveLength(session.findings.length);
    const severities = columnOf(table, 'Severity');
    expect(severities.filter((s) => s === 'stop')).toHaveLength(4);
    expect(severities.filter((s) => s === 'breach')).toHaveLength(6);
    // Header in row 5 here and there: two lines of ours, two of the schedule's.
    expect(valueAt(table, 'Finding', 'Wrong voltage', 'Cells in the schedule')).toBe('I66:I77');
    expect(valueAt(table, 'Finding', 'Wrong voltage', 'Cells in the source file')).toBe(
      'Schedule!I66:I77',
    );
    expect(valueAt(table, 'Finding', 'Run length', 'Allowed')).toBeCloseTo(220, 9);
    expect(valueAt(table, 'Finding', 'Run length', 'Unit')).toBe('ft');
    expect(new Set(columnOf(table, 'State'))).toEqual(new Set(['open']));
  });
});

describe('patch', () => {
  const table = patchTable(project, session, marks);

  it('is sorted by universe and address and states its base', () => {
    const order = columnOf(table, 'Universe').map(
      (u, i) => Number(u) * 1000 + Number(columnOf(table, 'First')[i]),
    );
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(table.lead[0]).toContain('Universe base 1');
    expect(new Set(columnOf(table, 'RDM UID'))).toEqual(new Set([null]));
    expect(markAt(table, 'Tag', 'B-19', 'First').severity).toBe('breach');
    expect(markAt(table, 'Tag', 'C-07', 'First').severity).toBeNull();
  });
});

describe('takeoff', () => {
  it('counts taps, boxes and terminators, and what is terminated by hand', () => {
    const table = takeoffTable(project, session);
    expect(valueAt(table, 'Item', 'Tap', 'Quantity')).toBe(90);
    expect(valueAt(table, 'Item', 'Head box', 'Quantity')).toBe(6);
    expect(valueAt(table, 'Item', 'Terminator', 'Quantity')).toBe(6);
    // 5 % of 90 rounded up is 5; common practice, no source.
    expect(valueAt(table, 'Item', 'Tap', 'Order')).toBe(95);
    // 8 a fixture, 6 a head box: common practice, no source.
    expect(columnOf(table, 'Quantity').slice(-2)).toEqual([720, 36]);
  });
});

describe('assumptions and cautions', () => {
  const table = assumptionsTable(project, session);

  it('carry the planning-aid sentence, every caution and what was not checked', () => {
    const what = columnOf(table, 'What');
    expect(what[0]).toBe(planningAidSentence);
    expect(what).toEqual(expect.arrayContaining([...cautions]));
    const notChecked = session.findings.filter((f) => f.severity === 'not-checked');
    expect(notChecked.length).toBeGreaterThan(0);
    expect(what).toEqual(expect.arrayContaining(notChecked.map((f) => f.message)));
    expect(what).toContain('4 stop, 6 breach, 1 watch; 3 not checked.');
  });

  it('name the profile and that no edition is stated', () => {
    expect(valueAt(table, 'What', 'Limits in force', 'Value')).toBe('north-america');
    expect(valueAt(table, 'What', 'Edition of the codes', 'Value')).toBe('not stated');
    expect(valueAt(table, 'What', 'Branch drop limit is binding', 'Value')).toBe('yes');
  });
});

it('no table approves of anything', () => {
  const tables = [
    schedule,
    runs,
    circuitsTable(project, session, marks),
    findingsTable(project, session, new ScheduleLayout(project, schedule)),
    patchTable(project, session, marks),
    takeoffTable(project, session),
    assumptionsTable(project, session),
  ];
  for (const table of tables) {
    expect(wordsOf(table)).not.toMatch(/compl(?:iant|ies)|approved|passed|\bpass\b|\bOK\b/iu);
    for (const row of table.rows) expect(row).toHaveLength(table.columns.length);
    expect(new Set(headersOf(table)).size).toBe(table.columns.length);
  }
});
