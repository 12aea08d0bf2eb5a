/** The cells of schedule rows, one fixture at a time. */
import type { ColumnId } from '../../columns/column-table.ts';
import { statementFieldOf } from '../../document/cell-fields.ts';
import type { Fixture, Project } from '../../document/project.ts';
import type { Finding } from '../../limits/finding.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { unitNamed } from '../../units/quantity.ts';
import type { CellContent, ExportCell } from './export-table.ts';
import { type FindingMarks, titlesOf } from './finding-marks.ts';
import type { OwnColumnKey } from './own-columns.ts';
import { isUnknown, type ScheduleColumn, scheduleColumns } from './schedule-columns.ts';
import { SolvedRows } from './solved-row.ts';
import { type SourceCells, UNKNOWN } from './source-cells.ts';
import { contentInUnit, quantityKindOf } from './source-units.ts';
import { indexStated, type StatedIndex, statedValue } from './stated-value.ts';

/** A value with what the cell says of how it came about. */
export interface CellDraft {
  readonly value: CellContent;
  /** Becomes the end of the cell's note; null: nothing. */
  readonly remark: string | null;
}

/** Columns of ours that take the marks of a column the schedule does not have. */
const standIns: Readonly<Partial<Record<ColumnId, OwnColumnKey>>> = {
  universe: 'proposedUniverse',
  address: 'proposedAddress',
  installed: 'installedSpan',
};

/** Said of a row the source file does not have. */
export const NEW_ROW = 'A row that is not in the source file';

/** What is said of a cell that says something else than the source file's, which had `was`. */
export function changedRemark(was: string): string {
  const had = was === '' ? 'left this cell empty' : `had: ${was}`;
  return `Not as in the source file, which ${had}`;
}

export class ScheduleRows {
  readonly columns: readonly ScheduleColumn[];
  private readonly stated: StatedIndex;
  private readonly solved: SolvedRows;
  /** Places of a column; several where sheets of the file name it differently. */
  private readonly placesOf = new Map<ColumnId, number[]>();
  readonly findingsPlace: number;
  private readonly tagPlace: number;
  private readonly firsts = new Map<string, string>();

  constructor(
    private readonly project: Project,
    session: EngineSession,
    private readonly marks: FindingMarks,
    /** The engineer's own cells; null: a schedule that has none. */
    private readonly source: SourceCells | null,
  ) {
    this.columns = scheduleColumns(project, session);
    this.stated = indexStated(project);
    this.solved = new SolvedRows(project, session);
    this.columns.forEach(({ shown }, place) => {
      if (shown.columnId === null) return;
      const list = this.placesOf.get(shown.columnId);
      if (list === undefined) this.placesOf.set(shown.columnId, [place]);
      else list.push(place);
    });
    const placeOfOwn = (key: OwnColumnKey) =>
      this.columns.findIndex((c) => c.from === 'own' && c.own.key === key);
    this.findingsPlace = placeOfOwn('findings');
    this.tagPlace = this.placesOf.get('tag')?.[0] ?? 0;
    for (const [column, key] of Object.entries(standIns) as [ColumnId, OwnColumnKey][]) {
      const place = placeOfOwn(key);
      if (!this.placesOf.has(column) && place >= 0) this.placesOf.set(column, [place]);
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

  /** Value of a column for a fixture, without its findings. */
  draft(fixture: Fixture, column: ScheduleColumn): CellDraft {
    if (column.from === 'source') {
      const out = this.source?.cell(fixture, column.place) ?? { value: null, was: null };
      if (out.was === null) return { value: out.value, remark: null };
      if (out.remark !== undefined) return { value: out.value, remark: out.remark };
      return { value: out.value, remark: changedRemark(out.was) };
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
  marksByPlace(
    fixtureId: string,
    isThere: (place: number) => boolean = () => true,
  ): Map<number, Finding[]> {
    const places = new Map<number, Finding[]>();
    for (const [column, findings] of this.marks.ofCells(fixtureId)) {
      const place = this.placeOfMark(column, isThere);
      const list = places.get(place) ?? [];
      for (const finding of findings) if (!list.includes(finding)) list.push(finding);
      places.set(place, list);
    }
    for (const list of places.values())
      list.sort((a, b) => this.marks.order(a) - this.marks.order(b));
    return places;
  }

  /** Where a mark on a column stands: there, in what stands in for it, or under Findings. */
  placeOfMark(column: ColumnId, isThere: (place: number) => boolean): number {
    return this.placesOf.get(column)?.find(isThere) ?? this.findingsPlace;
  }

  row(fixture: Fixture): ExportCell[] {
    const marks = this.marksByPlace(fixture.id);
    const isNew = this.source !== null && fixture.origin === null;
    return this.columns.map((column, place): ExportCell => {
      const { value, remark } = this.draft(fixture, column);
      const findings = marks.get(place) ?? [];
      const said = isNew && place === this.tagPlace ? NEW_ROW : remark;
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
  worstInFindings(marks: ReadonlyMap<number, Finding[]>, place: number) {
    if (place !== this.findingsPlace) return null;
    const [worst] = [...marks.values()]
      .flat()
      .sort((a, b) => this.marks.order(a) - this.marks.order(b));
    return worst?.severity ?? null;
  }
}
