import type { Project } from '../../document/project.ts';
import type { Finding } from '../../limits/finding.ts';
import type { LimitId } from '../../limits/limit.ts';
import { listedLengthM } from '../../limits/rules/run-length.limit.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { type RunResult, worstDrop } from '../../solve/run-result.ts';
import { lengthInUnit } from '../../units/length.ts';
import { sheetNames } from '../sheet-names.ts';
import {
  type CellContent,
  type ExportCell,
  type ExportColumn,
  type ExportTable,
  numberColumn,
  textColumn,
} from './export-table.ts';
import { type FindingMarks, titlesOf } from './finding-marks.ts';
import { runSlots } from './run-slots.ts';

interface RunColumn {
  readonly column: ExportColumn;
  readonly value: (run: RunResult) => CellContent;
  /** Limits whose findings mark this cell. */
  readonly limits: readonly LimitId[];
}

function solvedWords(run: RunResult): string {
  if (run.solved === true) return run.homeRunKnown ? 'yes' : 'from the head box only';
  if (run.solved === false) return 'no operating point';
  const needs = run.needs.map((need) => need.what).join(', ');
  return `not checked: needs ${needs === '' ? 'readable loads' : needs}`;
}

function circuitWords({ circuit }: RunResult): string | null {
  return circuit.name ?? (circuit.panel === null ? null : 'not stated');
}

function runColumns(project: Project, session: EngineSession): RunColumn[] {
  const unit = project.settings.displayUnit;
  const at = (
    column: ExportColumn,
    value: RunColumn['value'],
    ...limits: readonly LimitId[]
  ): RunColumn => ({ column, value, limits });
  const text = (header: string) => textColumn(header);
  const metres = (lengthM: number | null) => lengthInUnit(lengthM, unit);
  const listed = (run: RunResult) =>
    run.supplyV === null ? null : listedLengthM(run.line, run.supplyV);
  return [
    at(text('Run'), (run) => run.run.name, 'branch', 'broken-chain'),
    at(text('Panel'), (run) => run.circuit.panel),
    at(text('Circuit'), circuitWords, 'circuit-load', 'leakage', 'breaker-over-line'),
    at(numberColumn('Supply (V)', null), (run) => run.supplyV, 'wrong-voltage', 'mixed-voltage'),
    at(numberColumn('Fixtures', 0), (run) => run.facts.length),
    at(numberColumn('Amps, low supply (A)', 3), (run) => run.low?.headA ?? null),
    at(
      numberColumn('Amps, nominal (A)', 3),
      (run) => run.nominal?.headA ?? null,
      'line-rating',
      'no-operating-point',
    ),
    at(numberColumn('Amps, high supply (A)', 3), (run) => run.high?.headA ?? null),
    at(numberColumn('Line rating (A)', null), (run) => run.line?.ratingA ?? null),
    at(
      numberColumn('Worst drop (%)', 2),
      (run) => (run.nominal === null ? null : (worstDrop(run.nominal)?.dropPct ?? null)),
      'branch-drop',
    ),
    at(
      numberColumn('Last volts, nominal (V)', 2),
      (run) => run.nominal?.voltsV.at(-1) ?? null,
      'fixture-under-volts',
    ),
    at(numberColumn(`Drawn (${unit})`, 2), (run) => metres(run.drawnTotalM)),
    at(numberColumn(`Installed (${unit})`, 2), (run) => metres(run.installedTotalM), 'run-length'),
    at(numberColumn(`Listed at most (${unit})`, 2), (run) => metres(listed(run))),
    at(numberColumn(`Home run (${unit})`, 2), (run) =>
      run.homeRunKnown ? metres(run.homeRunM) : null,
    ),
    at(
      text('Universe'),
      (run) => {
        const { universes } = runSlots(run, session);
        const [only] = universes;
        return universes.length === 1 && only !== undefined ? only : universes.join(', ') || null;
      },
      'two-universes',
    ),
    at(
      numberColumn('Slots used', 0),
      (run) => runSlots(run, session).slotsUsed,
      'past-512',
      'footprint-unknown',
      'address-overlap',
    ),
    at(text('Solved?'), solvedWords, 'missing-value'),
  ];
}

/** One row a run, in order of first appearance: what it draws, how far it reaches, against what. */
export function runsTable(
  project: Project,
  session: EngineSession,
  marks: FindingMarks,
): ExportTable {
  const columns = runColumns(project, session);
  const row = (run: RunResult): ExportCell[] => {
    const ids = run.facts.map((fact) => fact.fixture.id);
    const findings = marks.about(ids, run.run.name);
    const marked = (value: CellContent, hits: readonly Finding[]): ExportCell => {
      const [worst] = hits;
      if (worst === undefined) return value;
      return { value, severity: worst.severity, changed: false, note: marks.notesOf(hits) };
    };
    const cells = columns.map(({ value, limits }) =>
      marked(
        value(run),
        findings.filter((f) => limits.includes(f.limit)),
      ),
    );
    const [worst] = findings;
    const titles = titlesOf(findings);
    const last: ExportCell =
      worst === undefined
        ? titles
        : { value: titles, severity: worst.severity, changed: false, note: null };
    return [...cells, last];
  };
  return {
    name: sheetNames.runs,
    lead: ['Amps are those of the home run, solved. Installed: head box to last fixture.'],
    columns: [
      ...columns.map((c) => c.column),
      textColumn('Findings', { wrap: 40, saysLetter: true }),
    ],
    rows: [...session.runs.values()].map(row),
  };
}
