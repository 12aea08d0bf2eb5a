import { describe, expect, test } from 'vitest';
import { limitIds } from '../../src-shared/limits/limit.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { remediesFor } from '../../src-shared/session/remedies.ts';
import {
  captured,
  change,
  longRun,
  remediesOf,
  renumber,
  split,
  splitCounts,
  stillBroken,
  takenOff,
  type,
} from './apply-remedy.ts';
import {
  cleanProject,
  findingsIn,
  findingsOf,
  oneLoad,
  raised,
  withCircuit,
  withFixture,
  withFixtures,
  withLine,
  withRun,
  withSettings,
  withType,
} from './build-project.ts';
import { readCase } from './read-cases.ts';

// A remedy that names a trial is true: done to the job by commands, it clears the limit at low,
// nominal and high supply.

describe('line rating', () => {
  // 12 fixtures of 220 W at 240 V draw over 11 A from a line of 10 A; at low supply about 11.6 A.
  const job = longRun(12, 220);

  test('the split it names clears it, at every level', () => {
    expect(stillBroken(job, 'line-rating')).toHaveLength(1);
    const counts = splitCounts(remediesOf(job, 'line-rating'));
    expect(counts).toEqual([6, 6]);
    expect(stillBroken(split(job, counts), 'line-rating')).toEqual([]);
  });

  test('taking off as many as it says clears it, one fewer does not', () => {
    const off = takenOff(remediesOf(job, 'line-rating'));
    expect(off).toBeGreaterThan(1);
    const kept = (count: number) => ({
      ...job,
      fixtures: job.fixtures.filter((f) => f.run !== 'R1' || (f.place ?? 0) <= 12 - count),
    });
    expect(stillBroken(kept(off), 'line-rating')).toEqual([]);
    expect(stillBroken(kept(off - 1), 'line-rating')).toHaveLength(1);
    expect(remediesOf(job, 'line-rating').join(' ')).toContain('is not enough');
  });

  test('what takes a lead-in stated as installed is split with that lead-in', () => {
    const stated = withFixture(longRun(12, 220), 'R1f1', { installedM: 10 });
    const odd = withFixture(stated, 'R1f7', { installedM: 90 });
    const [, second] = captured(
      remediesOf(odd, 'line-rating'),
      /^Split the run 6 \+ 6: ([\d.]+) A(?: each|, ([\d.]+) A)/,
    );
    const cut = split(odd, [6, 6]);
    const laid = withFixture(cut, 'R1f7', { installedM: 10 });
    const amps = new EngineSession(laid).runs.get('R1b')?.nominal?.headA.toFixed(2);
    expect([
      captured(remediesOf(odd, 'line-rating'), /^Split the run 6 \+ 6: ([\d.]+) A/)[0],
      second,
    ]).toContain(amps);
  });
});

describe('branch drop and under volts', () => {
  test.each([
    [
      'branch-drop',
      withRun(withSettings(longRun(12, 100), { branchDropBinding: true }), 'R1', { homeRunM: 150 }),
    ],
    [
      'fixture-under-volts',
      withRun(withType(longRun(12, 100), 'U1', { absoluteMinV: 215 }), 'R1', { homeRunM: 400 }),
    ],
  ] as const)('%s: the home run and the split it names clear it', (id, wide) => {
    const job = withLine(wide, 'K1', { resistanceOhmPerKm: null, conductor: '12 AWG' });
    expect(stillBroken(job, id)).toHaveLength(1);
    const remedies = remediesOf(job, id);
    const [size = ''] = captured(remedies, /^A home run of ([^:]+):/);
    const home = change(job, {
      kind: 'set',
      table: 'runs',
      key: 'R1',
      field: 'homeRunConductor',
      value: size,
    });
    expect(stillBroken(home, id)).toEqual([]);
    const counts = splitCounts(remedies);
    expect(stillBroken(split(job, counts), id)).toEqual([]);
    // One part fewer would not do.
    if (counts.length > 2) {
      const fewer = counts.length - 1;
      const equal = Array.from({ length: fewer }, (_, i) => Math.floor((12 + i) / fewer));
      expect(stillBroken(split(job, equal), id)).not.toEqual([]);
    }
  });

  test('the nearest larger size that does, not the largest', () => {
    const job = withLine(
      withRun(withSettings(longRun(12, 100), { branchDropBinding: true }), 'R1', { homeRunM: 150 }),
      'K1',
      { resistanceOhmPerKm: null, conductor: '12 AWG' },
    );
    const sizes = ['10 AWG', '8 AWG', '6 AWG', '4 AWG', '3 AWG'];
    const clears = (homeRunConductor: string) =>
      stillBroken(withRun(job, 'R1', { homeRunConductor }), 'branch-drop').length === 0;
    const [named = ''] = captured(remediesOf(job, 'branch-drop'), /^A home run of ([^:]+):/);
    expect(named).toBe(sizes.find(clears));
  });
});

describe('no operating point', () => {
  test('the split it names has one', () => {
    const job = withRun(longRun(12, 130), 'R1', { homeRunM: 1500 });
    expect(findingsOf(job, 'no-operating-point')[0]?.severity).toBe('stop');
    const counts = splitCounts(remediesOf(job, 'no-operating-point'));
    expect(findingsOf(split(job, counts), 'no-operating-point')).toEqual([]);
  });
});

describe('run length', () => {
  test('pieces by least excess clear it where they are shorter', () => {
    // Spans of 5.5 m: one of 9 m has fewest joints, 3 + 3 m the least excess: 5 + 3·9 = 32, 5 + 3·6 = 23 m.
    const stock = withLine(withFixtures(cleanProject(), 'R1', { spanM: 5.5 }), 'K1', {
      jumperLengthsM: [3, 9],
      lengthLimits: [{ supplyV: 240, maxLengthM: 30 }],
    });
    const job = withFixture(stock, 'R1f1', { spanM: 5 });
    expect(findingsOf(job, 'run-length')[0]).toMatchObject({ severity: 'stop', value: 32 });
    captured(remediesOf(job, 'run-length'), /^(Stock pieces by least excess): 23\.?\d* ?m/);
    const done = change(job, {
      kind: 'set',
      table: 'lines',
      key: 'K1',
      field: 'pieceChoice',
      value: 'least-excess',
    });
    expect(findingsOf(done, 'run-length')).toEqual([]);
  });

  test('the split it names clears it', () => {
    const job = withLine(longRun(12, 48), 'K1', {
      lengthLimits: [{ supplyV: 240, maxLengthM: 30 }],
    });
    expect(stillBroken(job, 'run-length')).toHaveLength(1);
    expect(
      stillBroken(split(job, splitCounts(remediesOf(job, 'run-length'))), 'run-length'),
    ).toEqual([]);
  });
});

describe('circuit load', () => {
  test('the run it names moves to another circuit, and both hold', async () => {
    const { failing } = (await readCase('circuit-load')) ?? {};
    if (failing === undefined) throw new Error('no case');
    const [name = ''] = captured(
      remediesOf(failing, 'circuit-load'),
      /^Move run (\S+) to another circuit/,
    );
    const first = failing.fixtures.find((f) => f.run === name);
    const moved = type(failing, first?.id ?? '', 'circuit', '9,11');
    expect(new Set(moved.runs.map((r) => r.circuitId)).size).toBe(2);
    expect(raised(moved)).toEqual([]);
  });

  test('nothing is promised while a home run is unknown', () => {
    const one = withRun(withCircuit(oneLoad(1910), 'c1', { breakerA: 15 }), 'R2', {
      circuitId: 'c1',
    });
    const job = withRun(withFixtures(one, 'R2', { loadW: 500 }), 'R2', { homeRunM: null });
    expect(findingsOf(job, 'circuit-load').map((f) => f.severity)).toContain('breach');
    expect(remediesOf(job, 'circuit-load')).toEqual([]);
  });
});

describe('addresses', () => {
  test('starts without overlap', async () => {
    const { failing } = (await readCase('address-overlap')) ?? {};
    if (failing === undefined) throw new Error('no case');
    const [starts = ''] = captured(remediesOf(failing, 'address-overlap'), /as they are: (.+)\.$/);
    expect(raised(renumber(failing, starts))).toEqual([]);
  });

  test('eight slots stepped by four: the first keeps its start, the others follow', () => {
    const job = withFixtures(cleanProject(), 'R1', { mode: '8ch' });
    // 1–8, 5–12, 9–16, 13–20 among 17–32 of the other run: R1-04 meets R2-01.
    const [finding] = findingsOf(job, 'address-overlap');
    expect(finding).toMatchObject({ value: 4, severity: 'breach' });
    const [starts = ''] = captured(remediesOf(job, 'address-overlap'), /as they are: (.+)\.$/);
    expect(starts).not.toContain('R1-01');
    expect(raised(renumber(job, starts))).toEqual([]);
  });

  test('a declared share stays one', () => {
    const mates = ['R1f1', 'R1f2'].reduce(
      (p, id) => withFixture(p, id, { shareSet: 'M', address: 1 }),
      cleanProject(),
    );
    expect(raised(mates)).toEqual([]);
    const job = withFixture(mates, 'R1f3', { address: 3 });
    const [starts = ''] = captured(remediesOf(job, 'address-overlap'), /as they are: (.+)\.$/);
    const done = renumber(job, starts);
    expect(raised(done)).toEqual([]);
    const at = (id: string) => done.fixtures.find((f) => f.id === id)?.address;
    expect(at('R1f1')).toBe(at('R1f2'));
  });

  test('a locked start stays: the other one moves, whichever comes first', () => {
    const overlap = withFixture(cleanProject(), 'R1f2', { address: 4 });
    for (const [locked, moved] of [
      ['R1f1', 'R1-02'],
      ['R1f2', 'R1-01'],
    ] as const) {
      const job = withFixture(overlap, locked, { locks: ['address'] });
      const [starts = ''] = captured(remediesOf(job, 'address-overlap'), /as they are: (.+)\.$/);
      expect(starts.split(' ')[0]).toBe(moved);
      expect(raised(renumber(job, starts))).toEqual([]);
    }
    const both = withFixture(withFixture(overlap, 'R1f1', { locks: ['address'] }), 'R1f2', {
      locks: ['address'],
    });
    expect(remediesOf(both, 'address-overlap')).toEqual([]);
  });

  test('past 512: a free start in its universe', async () => {
    const { failing } = (await readCase('past-512')) ?? {};
    if (failing === undefined) throw new Error('no case');
    const [starts = ''] = captured(remediesOf(failing, 'past-512'), /^Free in universe 1: (.+)\.$/);
    expect(raised(renumber(failing, starts))).toEqual([]);
  });

  test('past 512 by a whole tail is one finding with all of them, and one remedy', () => {
    const job = ['R1f1', 'R1f2', 'R1f3'].reduce(
      (p, id, i) => withFixture(p, id, { address: 510 + i }),
      withFixtures(cleanProject(), 'R1', { universe: 2 }),
    );
    const found = findingsOf(job, 'past-512');
    expect(found).toHaveLength(1);
    // Starts 510, 511, 512 of four slots end at 513, 514, 515; R1-04 at 13 ends at 16.
    expect(found[0]).toMatchObject({ value: 515, run: 'R1', fixtureIds: ['R1f1', 'R1f2', 'R1f3'] });
    const [starts = ''] = captured(remediesOf(job, 'past-512'), /^Free in universe 2: (.+)\.$/);
    expect(raised(renumber(job, starts))).toEqual([]);
  });

  test('two universes: the run’s own, with a start that is free there', async () => {
    const { failing } = (await readCase('two-universes')) ?? {};
    if (failing === undefined) throw new Error('no case');
    const taken = withFixture(failing, 'R2f1', { address: 9 });
    for (const job of [failing, taken]) {
      const [universe = '', starts = ''] = captured(
        remediesOf(job, 'two-universes'),
        /^Universe (\d+) with starts (.+): these/,
      );
      expect(raised(renumber(job, starts, universe))).toEqual([]);
    }
  });
});

describe('counts that fit', () => {
  test('leakage: groups of as many as it says hold, with one more they are near or over', async () => {
    const { failing } = (await readCase('leakage')) ?? {};
    if (failing === undefined) throw new Error('no case');
    const [count = ''] = captured(
      remediesOf(failing, 'leakage'),
      /^Groups of at most (\d+) on one device/,
    );
    const group = (n: number) => ({
      ...failing,
      fixtures: failing.fixtures.filter((f) => f.run !== 'R1' || (f.place ?? 0) <= n),
    });
    expect(findingsOf(group(Number(count)), 'leakage')).toEqual([]);
    expect(findingsOf(group(Number(count) + 1), 'leakage')).not.toEqual([]);
  });

  test('unit loads: as many as it says fit, one more do not', async () => {
    const { failing } = (await readCase('unit-loads')) ?? {};
    if (failing === undefined) throw new Error('no case');
    const [count = ''] = captured(
      remediesOf(failing, 'unit-loads'),
      /^At most (\d+) such fixtures/,
    );
    const group = (n: number) => ({
      ...failing,
      fixtures: failing.fixtures.filter((f) => f.run !== 'R1' || (f.place ?? 0) <= n),
    });
    expect(stillBroken(group(Number(count)), 'unit-loads')).toEqual([]);
    expect(stillBroken(group(Number(count) + 1), 'unit-loads')).toHaveLength(1);
  });

  test('breaker over line: the breaker it names is one the line may stand behind', async () => {
    const { failing } = (await readCase('breaker-over-line')) ?? {};
    if (failing === undefined) throw new Error('no case');
    const [amps = ''] = captured(
      remediesOf(failing, 'breaker-over-line'),
      /^A breaker of at most (\d+) A/,
    );
    expect(raised(type(failing, 'R1f1', 'breaker', Number(amps)))).toEqual([]);
  });
});

test('every limit has words for the way out of its failing case, but for a missing value', async () => {
  for (const id of limitIds) {
    const found = await readCase(id);
    if (found === null) throw new Error(`no case of ${id}`);
    const remedies = remediesOf(found.failing, id);
    for (const remedy of remedies) {
      expect(remedy).toMatch(/^[A-Z].*\.$/);
      expect(remedy).not.toMatch(/NaN|undefined|null|Infinity/);
    }
    // The failing case of these is one load, which cannot be split, on a conductor without a name.
    const oneFixture = ['line-rating', 'branch-drop', 'fixture-under-volts', 'no-operating-point'];
    const none = ['missing-value', ...oneFixture];
    if (!none.includes(id)) expect([id, remedies.length > 0]).toEqual([id, true]);
  }
});

test('nothing that was not checked has a way out but the value itself', async () => {
  for (const id of limitIds) {
    const found = await readCase(id);
    if (found === null) throw new Error(`no case of ${id}`);
    const session = new EngineSession(found.notChecked);
    for (const finding of findingsIn(found.notChecked))
      expect(remediesFor(finding, session)).toEqual([]);
  }
});
