/** The engineer's own cells as they go back: raw where nothing was edited, else the new value. */
import { type ColumnId, columnById } from '../../columns/column-table.ts';
import type { CellValue } from '../../document/edit-cell.ts';
import { columnOf } from '../../document/import-answers.ts';
import { fileCellName } from '../../document/origin-cell.ts';
import type {
  Fixture,
  Project,
  Reading,
  RowOrigin,
  ScheduleSource,
} from '../../document/project.ts';
import { MERGED_WITH, STRUCK } from '../schedule/cell-reading.ts';
import { cleanText, isDash, isDitto } from '../schedule/cell-text.ts';
import { answeredText, isLeftBlank, isOfAnswer } from '../schedule/reading-log.ts';
import { CircuitCells } from './circuit-cells.ts';
import { ColumnReader, isoDate, showsItself } from './column-reader.ts';
import type { CellContent } from './export-table.ts';
import { NumberHabits } from './number-habits.ts';
import { SlotCells } from './slot-cells.ts';
import {
  type Above,
  disputedRemark,
  type SourceCellOut,
  unknownRemark,
} from './source-cell-out.ts';
import { SourceRows } from './source-rows.ts';
import { contentInUnit, isNear, shortContentInUnit, textInUnit } from './source-units.ts';
import { indexStated, isRunLevel, type StatedIndex, statedValue } from './stated-value.ts';
import { WorkedOutLoads } from './worked-out-loads.ts';

/** What a spreadsheet writes for a value that is not to be had: read again, it says as little. */
export const UNKNOWN = '#N/A';

export interface SourceCellOptions {
  /** Only rows of this file count; left out: those of all files. */
  readonly file?: number;
  /**
   * The cells stay where they are: what is read from them again may stand as it is, and new values
   * follow the sheet's own way of writing them.
   */
  readonly inPlace?: boolean;
  /** Text of a cell as its number format shows it; null: not known. */
  readonly shown?: (origin: RowOrigin, column: number) => string | null;
}

/** Builds the cells of source rows, one row after the other in the order of the document. */
export class SourceCells {
  readonly rows: SourceRows;
  readonly slots: SlotCells;
  readonly circuits: CircuitCells;
  private readonly index: StatedIndex;
  private readonly columns: readonly ColumnReader[];
  private readonly readings = new Map<string, Reading[]>();
  /** By column. */
  private readonly above: Above[] = [];
  private readonly habits: NumberHabits;
  private readonly isPlaced: boolean;
  private readonly workedOut: WorkedOutLoads;

  constructor(
    private readonly project: Project,
    private readonly source: ScheduleSource,
    private readonly options: SourceCellOptions = {},
  ) {
    this.isPlaced = options.inPlace === true;
    this.index = indexStated(project);
    this.workedOut = new WorkedOutLoads(project, this.index);
    this.rows = new SourceRows(project, source, options.file);
    this.slots = new SlotCells(this.rows, this.isPlaced, (...cell) => this.wasRead(...cell));
    this.circuits = new CircuitCells(this.rows, this.index, this.isPlaced);
    this.columns = source.columns.map(
      (column, place) => new ColumnReader(column, place, project.fixtures, this.index),
    );
    this.habits = new NumberHabits(project.fixtures, source.columns.length);
    for (const reading of source.readings) {
      const list = this.readings.get(reading.cell);
      if (list === undefined) this.readings.set(reading.cell, [reading]);
      else list.push(reading);
    }
  }

  private readingsOf(fixture: Fixture, place: number, id: ColumnId): readonly Reading[] {
    const origin = this.rows.originAt(fixture, place);
    const column = origin === null ? null : columnOf(this.source, origin, place);
    if (origin === null || column === null || this.readings.size === 0) return [];
    const list = this.readings.get(fileCellName(this.source, origin, column)) ?? [];
    return list.filter((reading) => reading.column === null || reading.column === id);
  }

  private isStruck(fixture: Fixture, place: number, id: ColumnId): boolean {
    return this.readingsOf(fixture, place, id).some(({ note }) => note.startsWith(STRUCK));
  }

  private wasRead(fixture: Fixture, place: number, id: ColumnId, value: CellValue): boolean {
    // Nothing is no reading to go back to: the raw content would be read again.
    if (value === null) return false;
    return this.readingsOf(fixture, place, id).some((reading) => {
      if (isOfAnswer(reading)) return false;
      if (typeof reading.value === 'number' && typeof value === 'number')
        return isNear(reading.value, value);
      return reading.value === value;
    });
  }

  /** What goes back for a cell that could not be read: what it said, so that nobody takes it for blank. */
  private unreadCell(
    fixture: Fixture,
    place: number,
    id: ColumnId,
    above: Above | undefined,
  ): SourceCellOut {
    const raw = this.rows.rawAt(fixture, place);
    const was = raw === null ? '' : String(raw);
    const readings = this.readingsOf(fixture, place, id);
    const answered = readings.map(answeredText).find((text) => text !== null) ?? null;
    if (answered !== null) return { value: answered, was };
    const isRepeat = typeof raw === 'string' && isDitto(raw.trim());
    const isDisputed = !this.isPlaced && fixture.alsoFrom.length > 0;
    if (isDisputed) return { value: UNKNOWN, was, remark: disputedRemark };
    if (raw !== null && (!isRepeat || id === 'tag' || above === undefined)) {
      return { value: raw, was: null };
    }
    // A blank universe whose address could not be read: that cell says it again.
    if (id === 'universe' && fixture.unread.includes('address')) return { value: null, was: null };
    const isMerged = readings.some(({ note }) => note.startsWith(MERGED_WITH));
    if ((isRepeat || isMerged) && above?.unread === true)
      return { value: above.content, was: null };
    return { value: UNKNOWN, was, remark: unknownRemark };
  }

  /**
   * The value another row of the run states in this column, so that an unreadable cell of its first
   * row need not carry it.
   */
  private standsElsewhere(fixture: Fixture, place: number, value: CellValue): boolean {
    const column = this.columns[place];
    if (column === undefined || column.id === null) return false;
    const { id } = column;
    return this.project.fixtures.some((other) => {
      if (other.run !== fixture.run || other.unread.includes(id)) return false;
      if (this.isStruck(other, place, id)) return false;
      const raw = this.rows.rawAt(other, place);
      return column.says(raw, value) || this.wasRead(other, place, id, value);
    });
  }

  /** Whether the cell goes back as unread: it was, and no value has come in its place. */
  private staysUnread(fixture: Fixture, place: number, id: ColumnId, value: CellValue): boolean {
    if (!fixture.unread.includes(id) || this.rows.originAt(fixture, place) === null) return false;
    if (value === null || !this.rows.isFirstOfRun(fixture)) return true;
    return this.standsElsewhere(fixture, place, value);
  }

  /** A cell that was read as nothing though something stands there: blank, or it would come alive again. */
  private deletedCell(fixture: Fixture, place: number, id: ColumnId, raw: CellContent) {
    const was = String(raw);
    if (!this.isStruck(fixture, place, id)) return { value: null, was };
    return { value: null, was, remark: `Struck through in the source: ${was}` };
  }

  private written(column: ColumnReader, place: number, value: CellValue): CellContent {
    const { kind, unit } = column;
    if (typeof value !== 'number' || kind === null) return value;
    const plain = unit !== null && unit.unit !== 'VA' && unit.unit !== 'kVA';
    const { isPlaced } = this;
    const toContent = isPlaced ? shortContentInUnit : contentInUnit;
    const content =
      kind === 'number'
        ? value
        : plain
          ? toContent(value, unit, kind)
          : textInUnit(value, kind, this.project.settings.displayUnit);
    return isPlaced ? this.habits.written(place, content) : content;
  }

  /** A text column whose cell is a number or date: what its format shows is what was read. */
  private isShown(
    origin: RowOrigin | null,
    place: number,
    raw: CellContent,
    value: CellValue,
  ): boolean {
    const { shown } = this.options;
    if (shown === undefined || origin === null || typeof value !== 'string') return false;
    if (typeof raw !== 'number' && !(typeof raw === 'string' && isoDate.test(raw))) return false;
    const column = columnOf(this.source, origin, place);
    const text = column === null ? null : shown(origin, column);
    return text !== null && cleanText(text) === value;
  }

  private quantityCell(origin: RowOrigin | null, raw: CellContent): SourceCellOut {
    const rows = origin === null ? 1 : this.rows.countAt(origin);
    if (raw === null || (rows === 1 && Number(raw) === 1)) return { value: raw, was: null };
    return { value: 1, was: String(raw) };
  }

  /** What the document says in column `place` for a fixture. */
  stated(fixture: Fixture, place: number): CellValue {
    const id = this.columns[place]?.id ?? null;
    return id === null ? null : statedValue(fixture, id, this.index);
  }

  /** A file says in this or another column what the document says. */
  says(fixture: Fixture, id: ColumnId): boolean {
    return this.columns.some((column, place) => {
      if (column.id !== id) return false;
      const origin = this.rows.originAt(fixture, place);
      if (origin === null || columnOf(this.source, origin, place) === null) return false;
      return this.cellOf(fixture, place).was === null;
    });
  }

  /**
   * The cell of source column `place` in the row of `fixture`. Where several files speak of the
   * fixture and one of them says it, it is not changed, however the others put it.
   */
  cell(fixture: Fixture, place: number): SourceCellOut {
    const out = this.cellOf(fixture, place);
    const id = this.columns[place]?.id ?? null;
    if (out.was === null || id === null) return out;
    if (this.readingsOf(fixture, place, id).some(isLeftBlank)) return { ...out, overruled: true };
    if (this.rows.origins(fixture).length < 2) return out;
    if (out.remark !== undefined || fixture.unread.includes(id)) return out;
    return this.says(fixture, id) ? { value: out.value, was: null } : out;
  }

  private cellOf(fixture: Fixture, place: number): SourceCellOut {
    const column = this.columns[place];
    const origin = this.rows.originAt(fixture, place);
    const raw = this.rows.rawAt(fixture, place);
    const above = this.above[place];
    const isRepeat = typeof raw === 'string' && isDitto(raw.trim());
    const id = column?.id ?? null;
    const unread = id !== null && fixture.unread.includes(id);
    if (raw !== null && !isRepeat) this.above[place] = { content: raw, unread };
    if (column === undefined || id === null) return { value: raw, was: null };
    if (id === 'quantity') return this.quantityCell(origin, raw);
    if (columnById(id).edit === 'solved') return { value: null, was: null };
    const ofRun = isRunLevel(id);
    const value = statedValue(fixture, id, this.index);
    if (id === 'universe' || id === 'address') {
      const out = this.slots.cell(fixture, place, id, origin, raw, unread);
      if (out !== null) return out;
    }
    if (id === 'circuit' && !unread && !isRepeat) {
      const out = this.circuits.cell(fixture, origin, raw, place);
      if (out !== null) return out;
    }
    if (unread && this.staysUnread(fixture, place, id, value)) {
      return this.unreadCell(fixture, place, id, above);
    }
    if (raw === null && value === null) return { value: null, was: null };
    if (raw !== null && value === null && !isRepeat) {
      const readAsNothing = this.readingsOf(fixture, place, id).some(({ value: v }) => v === null);
      if (typeof raw === 'string' && isDash(raw.trim())) return { value: raw, was: null };
      if (readAsNothing && this.isPlaced) return { value: raw, was: null };
      if (!ofRun || fixture.run !== null || readAsNothing) {
        return this.deletedCell(fixture, place, id, raw);
      }
    }
    if (ofRun && fixture.run === null) return { value: raw, was: null };
    if (ofRun && raw === null) return this.runCell(fixture, place, column, value);
    const isStruck = this.isPlaced && this.isStruck(fixture, place, id);
    if (isStruck && ofRun && this.standsElsewhere(fixture, place, value)) {
      return { value: raw, was: null };
    }
    const readings = this.isPlaced && id === 'load' ? this.readingsOf(fixture, place, id) : [];
    const isOutdated = this.workedOut.isOutdated(fixture, readings);
    // What was answered could not be read from the cell as it is, so it has to be written.
    const isAnswered = this.readingsOf(fixture, place, id).some(isOfAnswer);
    if (!isRepeat && raw !== null && !isStruck && !isOutdated && !isAnswered) {
      const same =
        column.says(raw, value) ||
        ((this.isPlaced || showsItself(raw, value, id)) && this.wasRead(fixture, place, id, value));
      if (same || this.isShown(origin, place, raw, value)) return { value: raw, was: null };
    }
    const filled =
      (raw === null || isRepeat) &&
      !isOutdated &&
      !isAnswered &&
      (column.says(above?.content ?? null, value) || this.wasRead(fixture, place, id, value));
    const changed = origin !== null && !filled && !this.rows.hasTwin(fixture, place);
    return {
      value: this.written(column, place, value),
      was: changed ? (raw === null ? '' : String(raw)) : null,
    };
  }

  /** A blank cell of a column that holds for the run: filled in the run's first row only. */
  private runCell(
    fixture: Fixture,
    place: number,
    column: ColumnReader,
    value: CellValue,
  ): SourceCellOut {
    if (!this.rows.isFirstOfRun(fixture)) return { value: null, was: null };
    const stands = this.rows.isWritten(fixture.run, place);
    const read = column.id !== null && this.wasRead(fixture, place, column.id, value);
    const isTwin = this.rows.hasTwin(fixture, place);
    const changed = this.rows.originAt(fixture, place) !== null && !stands && !read && !isTwin;
    return { value: this.written(column, place, value), was: changed ? '' : null };
  }
}
