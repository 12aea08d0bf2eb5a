/** Findings by fixture, by cell and by run, for the grid to look up. */
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import type { Finding } from '../../src-shared/limits/finding.ts';

export type CellFindings = ReadonlyMap<ColumnId, readonly Finding[]>;

export interface FindingIndex {
  readonly byFixture: ReadonlyMap<string, readonly Finding[]>;
  readonly byCell: ReadonlyMap<string, CellFindings>;
  readonly byRun: ReadonlyMap<string, readonly Finding[]>;
}

function push<K>(map: Map<K, Finding[]>, key: K, finding: Finding): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [finding]);
  else if (list.at(-1) !== finding) list.push(finding);
}

function runsOf(finding: Finding, runOf: (fixtureId: string) => string | null): Set<string> {
  const runs = new Set<string>();
  for (const id of finding.fixtureIds) {
    const run = runOf(id);
    if (run !== null) runs.add(run);
  }
  return runs;
}

/** Keeps the order given: worst first. `runOf`: the run of a fixture, null for none. */
export function indexFindings(
  findings: readonly Finding[],
  runOf: (fixtureId: string) => string | null,
): FindingIndex {
  const byFixture = new Map<string, Finding[]>();
  const byCell = new Map<string, Map<ColumnId, Finding[]>>();
  const byRun = new Map<string, Finding[]>();
  for (const finding of findings) {
    for (const id of finding.fixtureIds) push(byFixture, id, finding);
    const runs = finding.run === null ? runsOf(finding, runOf) : [finding.run];
    for (const { fixtureId, column } of finding.marks) {
      let cells = byCell.get(fixtureId);
      if (cells === undefined) {
        cells = new Map();
        byCell.set(fixtureId, cells);
      }
      push(cells, column, finding);
    }
    for (const run of runs) push(byRun, run, finding);
  }
  return { byFixture, byCell, byRun };
}

/** A finding in full, for tooltips and the reading line. */
export function inFull(finding: Finding): string {
  return `${finding.message} Basis: ${finding.basis}`;
}
