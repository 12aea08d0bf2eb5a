/**
 * The shipped demo: ten stops and breaches from eight planted mistakes, every number to the last
 * digit shown. Expected values: computed outside the app with constant-power phasor loads.
 */
import { describe, expect, it } from 'vitest';
import { remediesFor } from '../../src-shared/session/remedies.ts';
import { worstDrop } from '../../src-shared/solve/run-result.ts';
import { OpenJob, openJob } from './open-job.ts';

const demo = openJob(new URL('../../src-main/demo/foxglove-roundhouse.xlsx', import.meta.url));
const ft = 0.3048;

const planted = [
  'breach address-overlap:2/B-19',
  'breach branch-drop:A1',
  'breach branch-drop:C1',
  'breach circuit-load:LP-R 1,3',
  'breach leakage:LP-R 5,7',
  'breach two-universes:B1',
  'stop branch:D1/D-05',
  'stop line-rating:C1',
  'stop run-length:A1',
  'stop wrong-voltage:C1/RT3',
];

describe('the demo job', () => {
  it('reads 90 fixtures on six runs, nothing skipped', () => {
    expect(demo.fixtures).toHaveLength(90);
    expect(demo.runs.map((r) => r.name)).toEqual(['A1', 'A2', 'A3', 'B1', 'C1', 'D1']);
    expect(demo.source?.sheets[0]).toMatchObject({
      sheet: 'Schedule',
      headerRow: 5,
      rowsRead: 90,
      rowsSkipped: [],
    });
  });

  // run, fixtures, head amps low / nominal / high, last volts, worst drop %, installed ft, drawn ft
  const runs: [string, number, string, string, string, number, number][] = [
    ['A1', 18, '8.6493 / 8.1863 / 7.7718', '199.981', '3.855', 267, 216],
    ['A2', 9, '4.2082 / 3.9943 / 3.8012', '206.015', '0.954', 132, 108],
    ['A3', 9, '4.2203 / 4.0046 / 3.8101', '205.482', '1.211', 132, 108],
    ['B1', 24, '5.6391 / 5.3476 / 5.0851', '340.313', '1.927', 375, 352],
    ['C1', 12, '11.1145 / 10.5206 / 9.9888', '335.003', '3.457', 225, 170],
    ['D1', 18, '3.1651 / 3.0039 / 2.8585', '205.918', '1.001', 166, 149],
  ];
  it.each(runs)('solves %s', (name, fixtures, amps, volts, drop, installed, drawn) => {
    const run = new OpenJob(demo).session.runs.get(name);
    if (run?.nominal == null || run.low === null || run.high === null)
      throw new Error('not solved');
    expect(run.facts).toHaveLength(fixtures);
    expect([run.low, run.nominal, run.high].map((l) => l.headA.toFixed(4)).join(' / ')).toBe(amps);
    expect(run.nominal.voltsV.at(-1)?.toFixed(3)).toBe(volts);
    expect(worstDrop(run.nominal)?.dropPct.toFixed(3)).toBe(drop);
    expect((run.installedTotalM ?? 0) / ft).toBeCloseTo(installed, 9);
    expect((run.drawnTotalM ?? 0) / ft).toBeCloseTo(drawn, 9);
  });

  it('finds the ten stops and breaches of its eight mistakes, and no other', () => {
    expect(new OpenJob(demo).broken()).toEqual(planted);
  });

  it('gives each mistake its numbers and tags', () => {
    const job = new OpenJob(demo);
    const found = (id: string) => job.session.findings.find((f) => f.id === id);
    expect(job.tagsOf('wrong-voltage')).toHaveLength(12);
    expect(found('line-rating:C1')?.value?.toFixed(3)).toBe('10.521');
    expect(found('line-rating:C1')?.message).toContain('11.11 A at −5 % supply');
    expect(found('circuit-load:LP-R 1,3')).toMatchObject({ allowed: 16 });
    expect(found('circuit-load:LP-R 1,3')?.value?.toFixed(3)).toBe('16.185');
    expect(found('circuit-load:LP-R 1,3')?.message).toContain('reads 15.85 A and looks fine');
    // The home run's share as phasors, 100·(Vs − |Vs − Z·I|)/Vs: 1.7811 and
    // 1.8293 by a plain sweep of complex numbers outside the app.
    expect(found('branch-drop:A1')?.message).toContain('The home run is 1.78 % of it');
    expect(found('branch-drop:C1')?.message).toContain('The home run is 1.83 % of it');
    expect(job.tagsOf('two-universes')).toEqual(['B-11', 'B-12']);
    expect(found('address-overlap:2/B-19')).toMatchObject({ value: 5, unit: 'pairs' });
    expect(job.tagsOf('address-overlap').sort()).toEqual([
      'B-19',
      'B-20',
      'B-21',
      'B-22',
      'B-23',
      'B-24',
    ]);
    expect(found('leakage:LP-R 5,7')?.value).toBeCloseTo(8.1, 9);
    expect(job.tagsOf('branch')).toEqual(expect.arrayContaining(['D-06', 'D-10']));
  });

  it('offers remedies that were tried', () => {
    const job = new OpenJob(demo);
    const remedies = (id: string) => {
      const finding = job.session.findings.find((f) => f.id === id);
      return finding === undefined ? '' : remediesFor(finding, job.session).join(' ');
    };
    expect(remedies('line-rating:C1')).toContain('6 + 6: 5.17 A each');
    expect(remedies('line-rating:C1')).toContain(
      'One off is not enough: 9.61 A at nominal, 10.15 A at low supply',
    );
    expect(remedies('branch-drop:C1')).toContain('6 + 6: 1.44 % each');
    expect(remedies('address-overlap:2/B-19')).toContain(
      'B-20 100, B-21 109, B-22 118, B-23 127, B-24 136',
    );
    expect(remedies('leakage:LP-R 5,7')).toContain('at most 4 on one device: 1.8 mA each');
    expect(remedies('two-universes:B1')).toContain('B-11 51, B-12 56');
  });

  it('clears each mistake when that one thing is corrected', () => {
    const job = new OpenJob(demo);
    const without = (...ids: string[]) => planted.filter((p) => !ids.some((id) => p.endsWith(id)));
    const type = demo.types.findIndex((t) => t.name === 'RT3');
    expect(type).toBeGreaterThanOrEqual(0);
    job.perform({
      label: '347 V option',
      changes: [
        { kind: 'set', table: 'types', key: 'RT3', field: 'absoluteMinV', value: 312 },
        { kind: 'set', table: 'types', key: 'RT3', field: 'absoluteMaxV', value: 528 },
      ],
    });
    expect(job.broken()).toEqual(without('wrong-voltage:C1/RT3'));
    job.edit('B-11', 'universe', 2);
    job.edit('B-12', 'universe', 2);
    expect(job.broken()).toEqual(without('wrong-voltage:C1/RT3', 'two-universes:B1'));
    for (const [i, start] of [91, 100, 109, 118, 127, 136].entries())
      job.edit(`B-${19 + i}`, 'address', start);
    job.edit('D-10', 'fedFrom', 'D-09');
    const left = without(
      'wrong-voltage:C1/RT3',
      'two-universes:B1',
      'address-overlap:2/B-19',
      'branch:D1/D-05',
    );
    expect(job.broken()).toEqual(left);
  });

  it('takes the live edit of D-14: start 163 overlaps A-33 and A-34', () => {
    const job = new OpenJob(demo);
    job.edit('D-14', 'address', 163);
    const overlap = job.session.findings.find((f) => f.id.startsWith('address-overlap:1/'));
    expect(overlap).toMatchObject({ severity: 'breach', value: 2 });
    expect(job.tagsOf('address-overlap')).toEqual(expect.arrayContaining(['D-14', 'A-33', 'A-34']));
  });

  it('is cured of mistakes 3 and 4 by 12 / 12 / 12 and a circuit of its own for A3', () => {
    const job = new OpenJob(demo);
    const move = (tags: string[], run: string) => {
      for (const tag of tags) job.edit(tag, 'run', run);
    };
    const tags = (from: number, to: number) =>
      Array.from({ length: to - from + 1 }, (_, i) => `A-${String(from + i).padStart(2, '0')}`);
    // The last six of A1 split between the other two runs, three each, at their ends.
    move(tags(13, 15), 'A2');
    move(tags(16, 18), 'A3');
    job.edit('A-28', 'circuit', '9,11');
    const heads = ['A1', 'A2', 'A3'].map((name) => job.session.runs.get(name)?.nominal);
    expect(heads.map((n) => n?.headA.toFixed(3))).toEqual(['5.380', '5.348', '5.367']);
    expect(heads.map((n) => (n == null ? '' : worstDrop(n)?.dropPct.toFixed(2)))).toEqual([
      '2.09',
      '1.50',
      '1.84',
    ]);
    const broken = job.broken().join(' ');
    for (const cured of ['run-length:A1', 'branch-drop:A1', 'circuit-load'])
      expect(broken).not.toContain(cured);
  });

  it('does not flag share sets, equal starts in different universes, or D1 beside the A runs', () => {
    const job = new OpenJob(demo);
    expect(job.session.findings.filter((f) => f.limit === 'address-overlap')).toHaveLength(1);
    expect(job.session.findings.filter((f) => f.limit === 'broken-chain')).toEqual([]);
  });
});
