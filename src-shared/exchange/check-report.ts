/** The check command's JSON, version 1: a public contract (SI, unrounded, null where unknown). */

import { rowsRead, rowsSkipped } from '../document/import-answers.ts';
import type { Assumption, Fixture, Reading, SkippedRow } from '../document/project.ts';
import { countFindings, type Finding, type FindingCounts } from '../limits/finding.ts';
import type { Severity } from '../limits/limit.ts';
import { listAssumptions } from '../session/assumptions.ts';
import type { EngineSession } from '../session/engine-session.ts';
import { findingCells } from '../session/finding-cells.ts';
import { projectTakeoff } from '../session/project-takeoff.ts';
import { remediesFor } from '../session/remedies.ts';
import { dropPct, type RunResult, worstDrop } from '../solve/run-result.ts';
import type { TakeoffItem } from '../takeoff/takeoff.ts';
import { SlotCount } from './export/run-slots.ts';

export interface CheckedFixture {
  readonly row: number | null;
  readonly tag: string | null;
  readonly type: string | null;
  readonly run: string | null;
  readonly place: number | null;
  readonly spanM: number | null;
  readonly installedM: number | null;
  readonly loadW: number | null;
  readonly powerFactor: number | null;
  readonly currentA: number | null;
  readonly cumulativeCurrentA: number | null;
  readonly throughCurrentA: number | null;
  readonly voltageV: number | null;
  readonly voltageLowV: number | null;
  readonly voltageHighV: number | null;
  readonly dropPct: number | null;
  readonly universe: number | null;
  readonly address: number | null;
  readonly lastAddress: number | null;
  readonly findings: readonly string[];
}

export interface CheckedRun {
  readonly id: string;
  readonly supplyV: number | null;
  readonly fixtures: number;
  readonly solved: boolean | null;
  readonly headCurrentA: number | null;
  readonly headCurrentLowSupplyA: number | null;
  readonly lastVoltageV: number | null;
  readonly worstDropPct: number | null;
  readonly drawnM: number | null;
  readonly installedM: number | null;
  readonly homeRunM: number | null;
  readonly universe: number | null;
  readonly slotsUsed: number | null;
  readonly findings: readonly string[];
}

export interface CheckedFinding {
  readonly id: string;
  readonly limit: string;
  readonly severity: Severity;
  readonly run: string | null;
  readonly tags: readonly string[];
  readonly cells: readonly string[];
  readonly value: number | null;
  readonly allowed: number | null;
  readonly unit: string | null;
  readonly message: string;
  readonly basis: string;
  readonly remedies: readonly string[];
}

export interface CheckReport {
  readonly format: 'runledger-check';
  readonly version: 1;
  readonly input: {
    readonly file: string;
    readonly sheet: string | null;
    readonly headerRow: number | null;
    readonly rowsRead: number;
    readonly rowsSkipped: readonly SkippedRow[];
    readonly columns: Readonly<Record<string, string | null>>;
    readonly readings: readonly Omit<Reading, 'offer'>[];
  };
  readonly assumptions: readonly Assumption[];
  readonly fixtures: readonly CheckedFixture[];
  readonly runs: readonly CheckedRun[];
  readonly findings: readonly CheckedFinding[];
  readonly takeoff: {
    readonly items: readonly TakeoffItem[];
    readonly terminations: { readonly hardWired: number; readonly asRuns: number };
  };
  readonly counts: FindingCounts;
}

/** Where each fixture stands in its run's results. */
function placesInRuns(session: EngineSession): Map<string, { run: RunResult; index: number }> {
  const places = new Map<string, { run: RunResult; index: number }>();
  for (const run of session.runs.values()) {
    for (const [index, { fixture }] of run.facts.entries()) places.set(fixture.id, { run, index });
  }
  return places;
}

function idsByFixture(findings: readonly Finding[]): Map<string, string[]> {
  const ids = new Map<string, string[]>();
  for (const finding of findings) {
    for (const fixtureId of finding.fixtureIds) {
      const list = ids.get(fixtureId);
      if (list === undefined) ids.set(fixtureId, [finding.id]);
      else list.push(finding.id);
    }
  }
  return ids;
}

/** A finding belongs to its run and to every run one of its fixtures is on. */
function idsByRun(
  findings: readonly Finding[],
  fixtures: ReadonlyMap<string, Fixture>,
): Map<string, string[]> {
  const ids = new Map<string, string[]>();
  for (const finding of findings) {
    const runs = new Set(finding.fixtureIds.map((id) => fixtures.get(id)?.run ?? null));
    runs.add(finding.run);
    for (const run of runs) {
      if (run === null) continue;
      const list = ids.get(run);
      if (list === undefined) ids.set(run, [finding.id]);
      else list.push(finding.id);
    }
  }
  return ids;
}

function checkedFixture(
  fixture: Fixture,
  session: EngineSession,
  at: { run: RunResult; index: number } | undefined,
  findings: readonly string[],
): CheckedFixture {
  const facts = session.factsOf(fixture.id);
  const slot = session.plan.get(fixture.id);
  const index = at?.index ?? 0;
  const nominal = at?.run.nominal ?? null;
  return {
    row: fixture.origin?.row ?? null,
    tag: fixture.tag,
    type: fixture.type,
    run: fixture.run,
    place: fixture.place,
    spanM: at?.run.spanM[index] ?? fixture.spanM,
    installedM: at?.run.installedM[index] ?? fixture.installedM,
    loadW: facts?.loadW ?? null,
    powerFactor: facts?.powerFactor ?? null,
    currentA: nominal?.currentA[index] ?? null,
    cumulativeCurrentA: nominal?.cumulativeA[index] ?? null,
    throughCurrentA: nominal?.throughA[index] ?? null,
    voltageV: nominal?.voltsV[index] ?? null,
    voltageLowV: at?.run.low?.voltsV[index] ?? null,
    voltageHighV: at?.run.high?.voltsV[index] ?? null,
    dropPct: nominal === null ? null : dropPct(nominal, index),
    universe: slot?.universe ?? null,
    address: slot?.address ?? null,
    lastAddress: slot?.lastAddress ?? null,
    findings,
  };
}

/** The run's one universe and the slots it uses there; null where there is none or more than one. */
function slotsOf(
  run: RunResult,
  session: EngineSession,
): { universe: number | null; slotsUsed: number | null } {
  const count = new SlotCount();
  const universes = new Set<number | null>();
  for (const { fixture } of run.facts) {
    const slot = session.plan.get(fixture.id);
    universes.add(slot?.universe ?? null);
    if (slot?.address == null || slot.lastAddress === null)
      return { universe: only(universes), slotsUsed: null };
    count.add(slot.universe, slot.address, slot.lastAddress);
  }
  return { universe: only(universes), slotsUsed: count.slots };
}

function only(values: ReadonlySet<number | null>): number | null {
  const [first] = values;
  return values.size === 1 ? (first ?? null) : null;
}

function checkedRun(
  run: RunResult,
  session: EngineSession,
  findings: readonly string[],
): CheckedRun {
  const { nominal, low } = run;
  return {
    id: run.run.name,
    supplyV: run.supplyV,
    fixtures: run.facts.length,
    solved: run.solved,
    headCurrentA: nominal?.headA ?? null,
    headCurrentLowSupplyA: low?.headA ?? null,
    lastVoltageV: nominal?.voltsV.at(-1) ?? null,
    worstDropPct: nominal === null ? null : (worstDrop(nominal)?.dropPct ?? null),
    drawnM: run.drawnTotalM,
    installedM: run.installedTotalM,
    homeRunM: run.homeRunKnown ? run.homeRunM : null,
    ...slotsOf(run, session),
    findings,
  };
}

/** The report of a solved project. `fileName`: the input as the user named it, without folders. */
export function checkReport(session: EngineSession, fileName: string): CheckReport {
  const { project } = session;
  const { source } = project;
  const { findings } = session;
  const byFixture = idsByFixture(findings);
  const places = placesInRuns(session);
  const fixtures = new Map(project.fixtures.map((f) => [f.id, f]));
  const byRun = idsByRun(findings, fixtures);
  const { items, terminations } = projectTakeoff(session);
  return {
    format: 'runledger-check',
    version: 1,
    input: {
      file: fileName,
      sheet: source?.sheets[0]?.sheet ?? null,
      headerRow: source?.sheets[0]?.headerRow ?? null,
      rowsRead: source === null ? project.fixtures.length : rowsRead(source),
      rowsSkipped: source === null ? [] : rowsSkipped(source),
      columns: Object.fromEntries((source?.columns ?? []).map((c) => [c.header, c.columnId])),
      readings: (source?.readings ?? []).map(({ offer: _offer, ...reading }) => reading),
    },
    assumptions: listAssumptions(project, session),
    fixtures: project.fixtures.map((f) =>
      checkedFixture(f, session, places.get(f.id), byFixture.get(f.id) ?? []),
    ),
    runs: [...session.runs.values()].map((run) =>
      checkedRun(run, session, byRun.get(run.run.name) ?? []),
    ),
    findings: findings.map((f) => ({
      id: f.id,
      limit: f.limit,
      severity: f.severity,
      run: f.run,
      tags: f.fixtureIds.map(
        (id) => fixtures.get(id)?.tag ?? `row ${fixtures.get(id)?.origin?.row ?? '?'}`,
      ),
      cells: findingCells(f, fixtures, source),
      value: f.value,
      allowed: f.allowed,
      unit: f.unit,
      message: f.message,
      basis: f.basis,
      remedies: remediesFor(f, session),
    })),
    takeoff: { items, terminations },
    counts: countFindings(findings),
  };
}
