/** The second invented job: mistakes planted, and numbers computed, by someone who had not read the code. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkReport } from '../../src-shared/exchange/check-report.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { openJob } from './open-job.ts';

interface Expectation {
  readonly limit: string;
  readonly severity?: string;
  readonly severityAnyOf?: readonly string[];
  readonly run?: string;
  readonly tags?: readonly string[];
  readonly value?: number;
  readonly allowed?: number;
}
interface ExpectedFixture {
  readonly tag: string;
  readonly [number: string]: string | number | null;
}
interface ExpectedRun {
  readonly id: string;
  readonly headCurrentA?: number | null;
  readonly headCurrentLowSupplyA?: number | null;
  readonly lastVoltageV?: number | null;
  readonly worstDropPct?: number | null;
  readonly drawnM?: number;
  readonly installedM?: number;
  readonly perFixture?: readonly ExpectedFixture[];
}
interface Expected {
  readonly input: {
    rowsRead: number;
    rowsSkipped: { row: number; reason: string }[];
    columns: Record<string, string | null>;
  };
  readonly stopsAndBreaches: readonly Expectation[];
  readonly softFindings: readonly Expectation[];
  readonly notChecked: readonly Expectation[];
  readonly watches: readonly Expectation[];
  readonly runs: readonly ExpectedRun[] | Record<string, ExpectedRun>;
}

const folder = new URL('../files/second-job/', import.meta.url);
const expected = JSON.parse(readFileSync(new URL('expected.json', folder), 'utf8')) as Expected;
const report = checkReport(
  new EngineSession(openJob(new URL('thistlemere-aqueduct.xlsx', folder))),
  'thistlemere-aqueduct.xlsx',
);

const found = (e: Expectation) =>
  report.findings.filter(
    (f) =>
      f.limit === e.limit &&
      (e.run === undefined || f.run === e.run) &&
      f.severity !== 'not-checked',
  );

describe('the second job', () => {
  it('reads every row and column as the planter meant them', () => {
    expect(report.input.rowsRead).toBe(expected.input.rowsRead);
    expect(report.input.rowsSkipped).toEqual(expected.input.rowsSkipped);
    expect(report.input.columns).toEqual(expected.input.columns);
  });

  it.each(expected.stopsAndBreaches)('finds $limit $run', (e) => {
    const [hit, ...more] = found(e);
    expect(more).toEqual([]);
    expect(hit?.severity).toBe(e.severity);
    if (e.tags !== undefined) expect([...(hit?.tags ?? [])].sort()).toEqual(expectedTags(e));
    if (e.value !== undefined && e.limit !== 'unit-loads')
      expect(hit?.value).toBeCloseTo(e.value, 9);
    if (e.allowed !== undefined && e.limit !== 'unit-loads')
      expect(hit?.allowed).toBeCloseTo(e.allowed, 9);
  });

  /** A duplicate tag is listed once a row. */
  function expectedTags(e: Expectation): string[] {
    const tags = [...(e.tags ?? [])];
    return e.limit === 'duplicate-tag' ? [...tags, ...tags].sort() : tags.sort();
  }

  it('counts unit loads with the sender: 33 of 32', () => {
    expect(report.findings.find((f) => f.limit === 'unit-loads' && f.run === 'P1')).toMatchObject({
      value: 33,
      allowed: 32,
    });
  });

  it('finds no other stop or breach', () => {
    const planned = new Set(
      [...expected.stopsAndBreaches, ...expected.softFindings].map((e) => e.limit),
    );
    const others = report.findings.filter(
      (f) => (f.severity === 'stop' || f.severity === 'breach') && !planned.has(f.limit),
    );
    expect(others.map((f) => f.message)).toEqual([]);
    const counted = report.findings.filter(
      (f) => f.severity === 'stop' || f.severity === 'breach',
    ).length;
    expect(counted).toBe(expected.stopsAndBreaches.length + expected.softFindings.length);
  });

  it.each([...expected.softFindings, ...expected.watches])('finds the soft $limit $run', (e) => {
    const hits = found(e);
    expect(hits.length).toBeGreaterThan(0);
    expect(e.severityAnyOf ?? ['watch']).toContain(hits[0]?.severity);
    if (e.value !== undefined) expect(hits[0]?.value).toBeCloseTo(e.value, 6);
  });

  it.each(expected.notChecked)('says not checked: $limit $run', (e) => {
    const hits = report.findings.filter(
      (f) => f.limit === e.limit && f.run === e.run && f.severity === 'not-checked',
    );
    expect(hits).toHaveLength(1);
    expect(report.runs.find((r) => r.id === e.run)).toMatchObject({
      solved: null,
      headCurrentA: null,
      lastVoltageV: null,
    });
  });

  const runs = Array.isArray(expected.runs)
    ? (expected.runs as ExpectedRun[])
    : Object.entries(expected.runs).map(([id, run]) => ({ ...run, id }));
  it.each(runs)('solves $id to the numbers computed outside', (e) => {
    const run = report.runs.find((r) => r.id === e.id);
    const keys = [
      'headCurrentA',
      'headCurrentLowSupplyA',
      'lastVoltageV',
      'worstDropPct',
      'drawnM',
      'installedM',
    ] as const;
    let compared = 0;
    for (const key of keys) {
      const value = e[key];
      if (typeof value !== 'number') continue;
      expect(run?.[key]).toBeCloseTo(value, 8);
      compared += 1;
    }
    expect(compared).toBeGreaterThan(1);
  });

  it('solves every fixture of the six solved runs to the numbers computed outside', () => {
    let compared = 0;
    for (const run of runs) {
      for (const e of run.perFixture ?? []) {
        const here = report.fixtures.find((f) => f.tag === e.tag && f.run === run.id);
        for (const [key, value] of Object.entries(e)) {
          if (typeof value !== 'number') continue;
          expect(here?.[key as keyof typeof here], `${e.tag} ${key}`).toBeCloseTo(value, 7);
          compared += 1;
        }
      }
    }
    expect(compared).toBeGreaterThan(500);
  });
});
