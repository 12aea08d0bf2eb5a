/** The marked-up schedule: the engineer's own columns with ours beside them. */
import type { ColumnId } from '../../columns/column-table.ts';
import { statementFieldOf } from '../../document/cell-fields.ts';
import type { Fixture, Project } from '../../document/project.ts';
import { countFindings, type Finding, summarySentence } from '../../limits/finding.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { unitNamed } from '../../units/quantity.ts';
import { sheetNames } from '../sheet-names.ts';
import type { CellContent, ExportCell, ExportTable } from './export-table.ts';
import { FindingMarks, titlesOf } from './finding-marks.ts';
import type { OwnColumnKey } from './own-columns.ts';
import { isUnknown, type ScheduleColumn, scheduleColumns } from './schedule-columns.ts';
import { letterLegend } from './severity-letters.ts';
import { SolvedRows } from './solved-row.ts';
import { SourceCells, UNKNOWN } from './source-cells.ts';
import { contentInUnit, quantityKindOf } from './source-units.ts';
import { indexStated, type StatedIndex, statedValue } from './stated-value.ts';

interface Draft {
  value: CellContent;
  /** What the cell says of how it came about; becomes the end of its note. */
  remark: string | null;
}

/** Columns of ours that take the marks of a column the schedule does not have. */
const standIns: Readonly<Partial<Record<ColumnId, OwnColumnKey>>> = {
  universe: 'proposedUniverse',
  address: 'proposedAddress',
  installed: 'installedSpan',
};

class ScheduleBuilder {
  readonly columns: readonly ScheduleColumn[];
  private readonly stated: StatedIndex;
  private readonly solved: SolvedRows;
  private readonly source: SourceCells | null;
  private readonly placeOf = new Map<ColumnId, number>();
  private readonly findingsPlace: number;
  private readonly tagPlace: number;
  private readonly firsts = new Map<string, string>();

  constructor(
    private readonly project: Project,
    session: EngineSession,
    private readonly marks: FindingMarks,
  ) {
    this.columns = scheduleColumns(project, session);
    this.stated = indexStated(project);
    this.solved = new SolvedRows(project, session);
    this.source = project.source === null ? null : new SourceCells(project, project.source);
    this.columns.forEach(({ shown }, place) => {
      if (shown.columnId !== null && !this.placeOf.has(shown.columnId)) {
        this.placeOf.set(shown.columnId, place);
      }
    });
    const placeOfOwn = (key: OwnColumnKey) =>
      this.columns.findIndex((c) => c.from === 'own' && c.own.key === key);
    this.findingsPlace = placeOfOwn('findings');
    this.tagPlace = this.placeOf.get('tag') ?? 0;
    for (const [column, key] of Object.entries(standIns) as [ColumnId, OwnColumnKey][]) {
      const place = placeOfOwn(key);
      if (!this.placeOf.has(column) && place >= 0) this.placeOf.set(column, place);
    }
    for (const { id, run } of project.fixtures) {
      if (run !== null && !this.firsts.has(run)) this.firsts.set(run, id);
    }
  }

  /** A typed value in a column the file lacks: in the unit of its header. */
  private added(fixture: Fixture, id: ColumnId): CellContent {
    const field = statementFieldOf[id];
    if (field !== undefined && this.firsts.get(fixture.run ?? '') !== fixture.id) {
      if (fixture.differing?.[field] === undefined) return null;
    }
    const value = statedValue(fixture, id, this.stated);
    if (value === null && isUnknown(fixture, id)) return UNKNOWN;
    const kind = quantityKindOf(id);
    const unit = unitNamed(this.project.settings.displayUnit);
    return kind === 'length' && unit !== null && typeof value === 'number'
      ? contentInUnit(value, unit, kind)
      : value;
  }

  private draft(fixture: Fixture, column: ScheduleColumn): Draft {
    if (column.from === 'source') {
      const out = this.source?.cell(fixture, column.place) ?? { value: null, was: null };
      if (out.was === null) return { value: out.value, remark: null };
      if (out.remark !== undefined) return { value: out.value, remark: out.remark };
      const had = out.was === '' ? 'left this cell empty' : `had: ${out.was}`;
      return { value: out.value, remark: `Not as in the source file, which ${had}` };
    }
    if (column.from === 'added') {
      return { value: this.added(fixture, column.column.id), remark: null };
    }
    const { key } = column.own;
    if (key === 'findings') {
      return { value: titlesOf(this.marks.ofRow(fixture.id)), remark: null };
    }
    return { value: this.solved.cell(fixture, key), remark: null };
  }

  /** Findings by place in the row; those whose column is not there stand under Findings. */
  private marksByPlace(fixtureId: string): Map<number, Finding[]> {
    const places = new Map<number, Finding[]>();
    for (const [column, findings] of this.marks.ofCells(fixtureId)) {
      const place = this.placeOf.get(column) ?? this.findingsPlace;
      const list = places.get(place) ?? [];
      for (const finding of findings) if (!list.includes(finding)) list.push(finding);
      places.set(place, list);
    }
    for (const list of places.values())
      list.sort((a, b) => this.marks.order(a) - this.marks.order(b));
    return places;
  }

  row(fixture: Fixture): ExportCell[] {
    const marks = this.marksByPlace(fixture.id);
    const isNew = this.source !== null && fixture.origin === null;
    return this.columns.map((column, place): ExportCell => {
      const { value, remark } = this.draft(fixture, column);
      const findings = marks.get(place) ?? [];
      const said =
        isNew && place === this.tagPlace ? 'A row that is not in the source file' : remark;
      const worst = findings[0]?.severity ?? this.worstInFindings(marks, place);
      if (worst === null && said === null) return value;
      const texts = [this.marks.notesOf(findings), said ?? ''].filter((text) => text !== '');
      return {
        value,
        severity: worst,
        changed: said !== null,
        note: texts.length === 0 ? null : texts.join('\n\n'),
      };
    });
  }

  /** The Findings cell takes the shade of the worst mark of its row. */
  private worstInFindings(marks: ReadonlyMap<number, Finding[]>, place: number) {
    if (place !== this.findingsPlace) return null;
    const [worst] = [...marks.values()]
      .flat()
      .sort((a, b) => this.marks.order(a) - this.marks.order(b));
    return worst?.severity ?? null;
  }
}

/**
 * The schedule as a plain table: every row of the document in its order, the engineer's columns
 * with the values the file had where nothing was edited, then ours. Solved numbers are unrounded;
 * what is unknown is null.
 */
export function scheduleTable(
  project: Project,
  session: EngineSession,
  marks: FindingMarks = new FindingMarks(session),
): ExportTable {
  const builder = new ScheduleBuilder(project, session, marks);
  const counts = countFindings(session.findings);
  const review = counts.stop > 0 ? ' For review only, not for construction.' : '';
  return {
    name: project.source?.sheets[0]?.sheet ?? sheetNames.schedule,
    lead: [
      `${summarySentence(counts)}${review}`,
      `Marks: ${letterLegend}; each marked cell has its finding in a note. Outlined: not as in the source file. Blue: typed. Dark: solved.`,
    ],
    columns: builder.columns.map((column) => column.shown),
    rows: project.fixtures.map((fixture) => builder.row(fixture)),
  };
}
