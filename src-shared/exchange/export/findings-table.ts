import type { Fixture, Project } from '../../document/project.ts';
import { countFindings, type Finding, summarySentence } from '../../limits/finding.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { remediesFor } from '../../session/remedies.ts';
import { sheetNames } from '../sheet-names.ts';
import { type ExportCell, type ExportTable, numberColumn, textColumn } from './export-table.ts';
import { letterLegend, severityLetters, severityWords } from './severity-letters.ts';
import { shownQuantity } from './shown-quantity.ts';

/** Where the cells stand that a finding points at. */
export interface FindingPlaces {
  /** In the written workbook: `K7:K18`; empty where there is none. */
  cellsOf(finding: Finding): string;
  /** In the source file: `Schedule!K7:K18`. */
  sourceCellsOf(finding: Finding): string;
}

const levelWords = { low: 'low', nominal: 'nominal', high: 'high' } as const;

function labelOf(fixture: Fixture | undefined): string {
  if (fixture === undefined) return '?';
  return fixture.tag ?? (fixture.origin === null ? fixture.id : `row ${fixture.origin.row}`);
}

const columns = [
  textColumn('Mark', { saysLetter: true }),
  textColumn('Severity'),
  textColumn('Finding', { wrap: 20 }),
  textColumn('Run'),
  textColumn('Tags', { wrap: 24 }),
  textColumn('Cells in the schedule', { wrap: 18 }),
  numberColumn('Value', 3, true),
  numberColumn('Allowed', 3, true),
  textColumn('Unit'),
  textColumn('Supply level'),
  textColumn('In full', { wrap: 62 }),
  textColumn('Basis', { wrap: 40 }),
  textColumn('Tried', { wrap: 46 }),
  textColumn('State'),
  textColumn('Settled or referred by', { wrap: 18, atLeast: 18 }),
  textColumn('When', { wrap: 12, atLeast: 12 }),
  textColumn('Why', { wrap: 24, atLeast: 24 }),
  textColumn('Cells in the source file', { wrap: 18 }),
  textColumn('Finding id', { wrap: 24 }),
];

/**
 * Every finding, worst first, with its numbers (lengths in the project's unit), basis and the
 * remedies that were tried. The last columns are for people to fill.
 */
export function findingsTable(
  project: Project,
  session: EngineSession,
  layout: FindingPlaces,
): ExportTable {
  const fixtures = new Map(project.fixtures.map((fixture) => [fixture.id, fixture]));
  const { displayUnit } = project.settings;
  const { findings } = session;
  const row = (finding: Finding): ExportCell[] => {
    const { severity, title, run, fixtureIds, level, message, basis, id } = finding;
    const value = shownQuantity(finding.value, finding.unit, displayUnit);
    const allowed = shownQuantity(finding.allowed, finding.unit, displayUnit);
    return [
      { value: severityLetters[severity], severity, changed: false, note: null },
      severityWords[severity],
      title,
      run,
      fixtureIds.map((fixtureId) => labelOf(fixtures.get(fixtureId))).join(', ') || null,
      layout.cellsOf(finding) || null,
      value.value,
      allowed.value,
      value.unit,
      level === null ? null : levelWords[level],
      message,
      basis,
      remediesFor(finding, session).join('\n') || null,
      'open',
      null,
      null,
      null,
      layout.sourceCellsOf(finding) || null,
      id,
    ];
  };
  return {
    name: sheetNames.findings,
    lead: [`${summarySentence(countFindings(findings))} Marks: ${letterLegend}.`],
    columns,
    rows: findings.map(row),
  };
}
