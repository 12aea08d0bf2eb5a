import { rowsRead, rowsSkipped } from '../../document/import-answers.ts';
import type { Assumption, Confidence, Project, Reading } from '../../document/project.ts';
import { countFindings, summarySentence } from '../../limits/finding.ts';
import { listAssumptions } from '../../session/assumptions.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { sheetNames } from '../sheet-names.ts';
import { type CellContent, type ExportTable, textColumn } from './export-table.ts';
import { cautions, editionNote, planningAidSentence } from './safety-words.ts';
import { shownQuantity } from './shown-quantity.ts';

type Row = readonly [
  kind: string,
  what: string,
  value: CellContent,
  unit: string | null,
  from: string | null,
];

const truth = (value: string | number | boolean): string | number =>
  typeof value === 'boolean' ? (value ? 'yes' : 'no') : value;

function profileRows(project: Project): Row[] {
  const { settings, profileChanges } = project;
  const rows: Row[] = [
    ['Profile', 'Limits in force', settings.profile, null, editionNote],
    ['Profile', 'Edition of the codes', 'not stated', null, 'the project states none'],
  ];
  const own = (what: string, value: number | boolean | null, unit: string | null) => {
    if (value !== null) rows.push(['Profile', what, truth(value), unit, 'set by the project']);
  };
  own('Supply tolerance, both ways', settings.supplyTolerancePct, '%');
  own('Branch drop limit', settings.branchDropPct, '%');
  own('Branch drop limit is binding', settings.branchDropBinding, null);
  own('Part of a breaker a continuous load may use', settings.continuousFactor, null);
  for (const { setting, value, who, when, why } of profileChanges) {
    rows.push(['Profile', `Changed: ${setting}`, truth(value), null, `${who}, ${when}: ${why}`]);
  }
  return rows;
}

function assumptionRow(
  { what, value, unit, from }: Assumption,
  displayUnit: Project['settings']['displayUnit'],
): Row {
  if (typeof value !== 'number') return ['Assumption', what, truth(value), unit, from];
  const shown = shownQuantity(value, unit, displayUnit);
  return ['Assumption', what, shown.value, shown.unit, from];
}

const confidences: readonly Confidence[] = ['sure', 'likely', 'guess', 'refused'];

/** Readings shown one by one; the whole list stands in the import report. */
const mostReadings = 200;

function readingRow({ cell, raw, value, confidence, note }: Reading): Row {
  const said = value === null ? 'read as nothing' : truth(value);
  return ['Reading', `${cell}: ${raw}`, said, null, `${confidence}: ${note}`];
}

function sourceRows(project: Project): Row[] {
  const { source } = project;
  if (source === null) return [];
  const rows: Row[] = [
    ...source.sheets.map(({ file, sheet, headerRow }): Row => {
      const { fileName } = source.files[file] ?? { fileName: '' };
      return ['Source', 'File', fileName, null, `sheet ${sheet}, header in row ${headerRow}`];
    }),
    ['Source', 'Rows read', rowsRead(source), 'rows', null],
    ['Source', 'Rows left out', rowsSkipped(source).length, 'rows', 'listed below'],
  ];
  for (const confidence of confidences) {
    const count = source.readings.filter((r) => r.confidence === confidence).length;
    rows.push(['Reading', `Cells that were not plain: ${confidence}`, count, 'readings', null]);
  }
  const open = source.readings.filter(
    (r) => r.confidence === 'guess' || r.confidence === 'refused',
  );
  rows.push(...open.slice(0, mostReadings).map(readingRow));
  if (open.length > mostReadings) {
    rows.push([
      'Reading',
      `and ${open.length - mostReadings} more`,
      null,
      null,
      'see the import report',
    ]);
  }
  for (const { row, reason } of rowsSkipped(source)) {
    rows.push(['Row left out', `Row ${row}`, null, null, reason]);
  }
  return rows;
}

/** Everything a reader must know before using the numbers: limits, assumptions, cautions, what was not checked. */
export function assumptionsTable(project: Project, session: EngineSession): ExportTable {
  const { displayUnit } = project.settings;
  const { findings } = session;
  const notChecked = findings.filter((finding) => finding.severity === 'not-checked');
  const rows: Row[] = [
    ['Caution', planningAidSentence, null, null, null],
    ...cautions.map((caution): Row => ['Caution', caution, null, null, null]),
    ['Result', summarySentence(countFindings(findings)), null, null, null],
    ...notChecked.map(
      (f): Row => ['Not checked', f.message, null, null, f.run === null ? null : `run ${f.run}`],
    ),
    ...profileRows(project),
    ...listAssumptions(project, session).map((a) => assumptionRow(a, displayUnit)),
    ...sourceRows(project),
  ];
  return {
    name: sheetNames.assumptions,
    lead: [],
    columns: [
      textColumn('Kind'),
      textColumn('What', { wrap: 76 }),
      textColumn('Value', { wrap: 22 }),
      textColumn('Unit'),
      textColumn('From', { wrap: 60 }),
    ],
    rows,
  };
}
