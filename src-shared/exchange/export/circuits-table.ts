import type { Project } from '../../document/project.ts';
import { circuitAmps } from '../../limits/circuit-amps.ts';
import type { CircuitResult, LimitId } from '../../limits/limit.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { sheetNames } from '../sheet-names.ts';
import {
  type CellContent,
  type ExportCell,
  type ExportTable,
  numberColumn,
  textColumn,
} from './export-table.ts';
import { type FindingMarks, titlesOf } from './finding-marks.ts';

function leakageMa({ runs }: CircuitResult): number | null {
  let sum = 0;
  for (const run of runs) {
    for (const fact of run.facts) {
      if (fact.leakageMa === null) return null;
      sum += fact.leakageMa;
    }
  }
  return sum;
}

const circuitLimits: readonly LimitId[] = ['circuit-load', 'leakage', 'breaker-over-line'];

/** One row a circuit: what its runs draw together against what its breaker may carry. */
export function circuitsTable(
  project: Project,
  session: EngineSession,
  marks: FindingMarks,
): ExportTable {
  const { continuousFactor } = session.numbers;
  const row = (result: CircuitResult): ExportCell[] => {
    const { circuit, runs } = result;
    const members = runs.flatMap((run) => run.facts.map((f) => f.fixture.id));
    const findings = marks.about(members, null).filter((f) => circuitLimits.includes(f.limit));
    const cell = (value: CellContent, limit: LimitId): ExportCell => {
      const hits = findings.filter((f) => f.limit === limit);
      const [worst] = hits;
      if (worst === undefined) return value;
      return { value, severity: worst.severity, changed: false, note: marks.notesOf(hits) };
    };
    const nominal = circuitAmps(result.runs, 'nominal');
    const allowed = circuit.breakerA === null ? null : circuit.breakerA * continuousFactor;
    return [
      circuit.panel,
      circuit.name ?? 'not stated',
      cell(circuit.breakerA, 'breaker-over-line'),
      runs.map((run) => run.run.name).join(', '),
      circuitAmps(result.runs, 'low'),
      cell(nominal, 'circuit-load'),
      circuitAmps(result.runs, 'high'),
      allowed,
      nominal === null || allowed === null ? null : (100 * nominal) / allowed,
      circuit.protection,
      cell(leakageMa(result), 'leakage'),
      titlesOf(findings),
    ];
  };
  return {
    name: sheetNames.circuits,
    lead: [
      `Amps of the runs of each circuit, summed as phasors. A continuous load may use ${
        continuousFactor * 100
      } % of the breaker${project.settings.continuousFactor === null ? ' (profile)' : ' (project)'}.`,
    ],
    columns: [
      textColumn('Panel'),
      textColumn('Circuit'),
      numberColumn('Breaker (A)', null),
      textColumn('Runs', { wrap: 24 }),
      numberColumn('Amps, low supply (A)', 3),
      numberColumn('Amps, nominal (A)', 3),
      numberColumn('Amps, high supply (A)', 3),
      numberColumn('Allowed (A)', 2),
      numberColumn('Of allowed (%)', 1),
      textColumn('Protection', { wrap: 18 }),
      numberColumn('Leakage (mA)', 2),
      textColumn('Findings', { wrap: 40, saysLetter: true }),
    ],
    rows: session.circuits.map(row),
  };
}
