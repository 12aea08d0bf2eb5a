/**
 * Rows of the schedule grid as plain objects, made once: a head row a run, then its fixtures in
 * order of place; fixtures without a run last. A value edit writes into the objects it finds.
 */
import { columnById } from '../../src-shared/columns/column-table.ts';
import type { AddressSlot } from '../../src-shared/dmx/address-plan.ts';
import type { Finding } from '../../src-shared/limits/finding.ts';
import type { EngineSession } from '../../src-shared/session/engine-session.ts';
import type { FixtureFacts } from '../../src-shared/solve/fixture-facts.ts';
import type { RunResult } from '../../src-shared/solve/run-result.ts';
import { type CellFindings, type FindingIndex, indexFindings } from './finding-index.ts';

export interface HeadRow {
  readonly kind: 'head';
  readonly id: string;
  /** Null: the fixtures without a run. */
  run: RunResult | null;
  fixtures: number;
  findings: readonly Finding[];
}

export interface FixtureRow {
  readonly kind: 'fixture';
  readonly id: string;
  facts: FixtureFacts;
  run: RunResult | null;
  /** Index in the run's results; -1 without a run. */
  index: number;
  slot: AddressSlot | null;
  findings: readonly Finding[];
  cells: CellFindings | null;
}

/** Findings that point at a cell of this row; those of its run or circuit stand in the head row. */
export function ownFindings(row: FixtureRow): readonly Finding[] {
  if (row.cells === null) return [];
  const own = new Set<Finding>();
  for (const [column, found] of row.cells) {
    if (columnById(column).scope === 'circuit') continue;
    for (const finding of found) own.add(finding);
  }
  return row.findings.filter((finding) => own.has(finding));
}

export type GridRow = HeadRow | FixtureRow;

export interface RowModel {
  readonly rows: readonly GridRow[];
  /** The rows are others, or stand in another order, than before. */
  readonly moved: boolean;
  /** Ids of the rows that show something else now. */
  readonly changed: ReadonlySet<string>;
}

export const looseHeadId = 'head:';

function headId(run: string): string {
  return `head:${run}`;
}

/** A row as the session has it: key, and what it is made of. */
interface Wanted {
  readonly id: string;
  readonly run: RunResult | null;
  readonly facts: FixtureFacts | null;
  readonly index: number;
  readonly count: number;
}

function wantedRows(session: EngineSession): Wanted[] {
  const wanted: Wanted[] = [];
  let placed = 0;
  for (const [name, run] of session.runs) {
    wanted.push({ id: headId(name), run, facts: null, index: -1, count: run.facts.length });
    run.facts.forEach((facts, index) => {
      wanted.push({ id: facts.fixture.id, run, facts, index, count: 0 });
    });
    placed += run.facts.length;
  }
  const { fixtures } = session.project;
  if (placed === fixtures.length) return wanted;
  const loose = fixtures.filter((f) => f.run === null || !session.runs.has(f.run));
  if (loose.length === 0) return wanted;
  wanted.push({ id: looseHeadId, run: null, facts: null, index: -1, count: loose.length });
  for (const { id } of loose) {
    const facts = session.factsOf(id);
    if (facts !== null) wanted.push({ id, run: null, facts, index: -1, count: 0 });
  }
  return wanted;
}

/** Findings by fixture, cell and run of a session. */
export function indexSession(session: EngineSession): FindingIndex {
  return indexFindings(session.findings, (id) => session.factsOf(id)?.fixture.run ?? null);
}

/**
 * Brings rows up to date with the session, keeping the objects of rows that stay. `index`: that of
 * the session's findings, where it is made already.
 */
export function updateRows(
  before: readonly GridRow[],
  session: EngineSession,
  index: FindingIndex = indexSession(session),
): RowModel {
  const wanted = wantedRows(session);
  const moved =
    wanted.length !== before.length || wanted.some(({ id }, at) => before[at]?.id !== id);
  const known = moved ? new Map(before.map((row) => [row.id, row])) : null;
  const rows = moved ? [] : before;
  const fresh: GridRow[] = [];
  const changed = new Set<string>();
  wanted.forEach((want, at) => {
    const old = known === null ? rows[at] : known.get(want.id);
    const row = write(old, want, session, index, changed);
    if (moved) fresh.push(row);
  });
  return { rows: moved ? fresh : before, moved, changed };
}

function sameFindings(a: readonly Finding[], b: readonly Finding[]): boolean {
  return a === b || (a.length === b.length && a.every((finding, i) => finding === b[i]));
}

function sameSlot(a: AddressSlot | null, b: AddressSlot | null): boolean {
  if (a === null || b === null) return a === b;
  return (
    a.universe === b.universe &&
    a.address === b.address &&
    a.lastAddress === b.lastAddress &&
    a.proposed === b.proposed
  );
}

/** Marks follow findings: the same findings mark the same cells. */
function isSame(
  row: FixtureRow,
  want: Wanted,
  slot: AddressSlot | null,
  findings: readonly Finding[],
): boolean {
  return (
    row.facts === want.facts &&
    row.run === want.run &&
    row.index === want.index &&
    sameSlot(row.slot, slot) &&
    sameFindings(row.findings, findings)
  );
}

function write(
  old: GridRow | undefined,
  want: Wanted,
  session: EngineSession,
  index: FindingIndex,
  changed: Set<string>,
): GridRow {
  const { id, run, facts } = want;
  if (facts === null) {
    const findings = run === null ? [] : (index.byRun.get(run.run.name) ?? []);
    changed.add(id);
    if (old?.kind !== 'head') return { kind: 'head', id, run, fixtures: want.count, findings };
    old.run = run;
    old.fixtures = want.count;
    old.findings = findings;
    return old;
  }
  const slot = session.plan.get(id) ?? null;
  const findings = index.byFixture.get(id) ?? [];
  const cells = index.byCell.get(id) ?? null;
  if (old?.kind !== 'fixture') {
    changed.add(id);
    return { kind: 'fixture', id, facts, run, index: want.index, slot, findings, cells };
  }
  if (!isSame(old, want, slot, findings)) changed.add(id);
  old.facts = facts;
  old.run = run;
  old.index = want.index;
  old.slot = slot;
  old.findings = findings;
  old.cells = cells;
  return old;
}
