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
import { parseConductorSize } from '../../units/conductor-size.ts';
import { normaliseText } from '../../units/normalise-text.ts';
import { parseQuantity } from '../../units/parse-quantity.ts';
import { type QuantityKind, toBaseUnit, type UnitOfQuantity } from '../../units/quantity.ts';
import { MERGED_WITH, STRUCK } from '../schedule/cell-reading.ts';
import { isDash, isDitto } from '../schedule/cell-text.ts';
import { answeredText, isOfAnswer } from '../schedule/reading-log.ts';
import type { CellContent } from './export-table.ts';
import { contentInUnit, isNear, quantityKindOf, textInUnit, unitOfColumn } from './source-units.ts';
import { indexStated, isRunLevel, type StatedIndex, statedValue } from './stated-value.ts';

export interface SourceCellOut {
  readonly value: CellContent;
  /** What the source file had, when that is no longer what the cell says; null: it is. */
  readonly was: string | null;
  /** Said in place of that. */
  readonly remark?: string;
}

/** The nearest content above a cell: what a blank cell or a ditto mark may have been filled from. */
interface Above {
  readonly content: CellContent;
  /** It could not be read. */
  readonly unread: boolean;
}

/** What a spreadsheet writes for a value that is not to be had: read again, it says as little. */
export const UNKNOWN = '#N/A';
const unknownRemark =
  'Not known: what the source file has here could not be read, such as a formula without a stored result';

interface ColumnReader {
  readonly id: ColumnId | null;
  readonly kind: QuantityKind | null;
  readonly unit: UnitOfQuantity | null;
  /** What raw contents are read as on their own, by content. */
  readonly read: Map<string, number | null>;
}

function sameText(a: string, b: string, id: ColumnId): boolean {
  if (normaliseText(a) === normaliseText(b)) return true;
  if (id !== 'conductor') return false;
  const [left, right] = [parseConductorSize(a), parseConductorSize(b)];
  if (!left.ok || !right.ok) return false;
  return JSON.stringify({ ...left, notes: [] }) === JSON.stringify({ ...right, notes: [] });
}

const isoDate = /^\d{4}-\d{2}-\d{2}/u;

/** False where words were read from what a format showed (`1.50`, `4-Mar`): the stored value shows otherwise. */
function showsItself(raw: CellContent, value: CellValue, id: ColumnId): boolean {
  if (typeof value !== 'string' || id === 'conductor') return true;
  return typeof raw === 'string' && !isoDate.test(raw);
}

/** One key for one row of one sheet of one file. */
function rowKey({ file, sheet, row }: RowOrigin): string {
  return `${file}\u0000${sheet}\u0000${row}`;
}

/** Builds the cells of source rows, one row after the other in the order of the document. */
export class SourceCells {
  private readonly index: StatedIndex;
  private readonly columns: readonly ColumnReader[];
  private readonly readings = new Map<string, Reading[]>();
  private readonly rowsOf = new Map<string, number>();
  private readonly firstOfRun = new Map<string, string>();
  /** Runs with something written in a column, by place of the column. */
  private readonly writtenRuns: readonly Set<string>[];
  /** By column. */
  private readonly above: Above[] = [];

  constructor(
    private readonly project: Project,
    private readonly source: ScheduleSource,
  ) {
    this.index = indexStated(project);
    this.columns = source.columns.map((column, place) => {
      const id = column.columnId as ColumnId | null;
      const kind = id === null ? null : quantityKindOf(id);
      const unit =
        id === null ? null : unitOfColumn(column, place, id, project.fixtures, this.index);
      return { id, kind, unit, read: new Map() };
    });
    this.writtenRuns = source.columns.map(() => new Set());
    for (const reading of source.readings) {
      const list = this.readings.get(reading.cell);
      if (list === undefined) this.readings.set(reading.cell, [reading]);
      else list.push(reading);
    }
    for (const { run, origin, id } of project.fixtures) {
      if (run !== null && !this.firstOfRun.has(run)) this.firstOfRun.set(run, id);
      if (origin === null) continue;
      const key = rowKey(origin);
      this.rowsOf.set(key, (this.rowsOf.get(key) ?? 0) + 1);
      if (run === null) continue;
      origin.cells.forEach((cell, place) => {
        if (cell !== null) this.writtenRuns[place]?.add(run);
      });
    }
  }

  /** The row in which a run's values must stand when they stand nowhere else. */
  isFirstOfRun(fixture: Fixture): boolean {
    return fixture.run !== null && this.firstOfRun.get(fixture.run) === fixture.id;
  }

  /** What a bare or whole text in this column is read as on its own; null: not a quantity. */
  private readAlone(column: ColumnReader, raw: string | number): number | null {
    const { kind, unit } = column;
    if (kind === null) return null;
    if (typeof raw === 'number') return unit === null ? raw : toBaseUnit(raw, unit, kind);
    const known = column.read.get(raw);
    if (known !== undefined) return known;
    const defaultUnit = unit?.unit ?? null;
    const parsed = parseQuantity(raw, kind, { defaultUnit, decimal: 'either' });
    const value = parsed.ok ? parsed.value : null;
    column.read.set(raw, value);
    return value;
  }

  private saysAlone(column: ColumnReader, raw: CellContent, value: CellValue): boolean {
    if (raw === null || value === null || column.id === null || typeof raw === 'boolean')
      return false;
    if (typeof value === 'string') return sameText(String(raw), value, column.id);
    if (typeof raw === 'number' && column.kind === 'length' && column.unit === null) return false;
    const read = this.readAlone(column, raw);
    return read !== null && isNear(read, value);
  }

  private readingsOf(fixture: Fixture, place: number, id: ColumnId): readonly Reading[] {
    const { origin } = fixture;
    const column = origin === null ? null : columnOf(this.source, origin, place);
    if (origin === null || column === null || this.readings.size === 0) return [];
    const list = this.readings.get(fileCellName(this.source, origin, column)) ?? [];
    return list.filter((reading) => reading.column === null || reading.column === id);
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
    const raw = fixture.origin?.cells[place] ?? null;
    const readings = this.readingsOf(fixture, place, id);
    const answered = readings.map(answeredText).find((text) => text !== null) ?? null;
    if (answered !== null) return { value: answered, was: raw === null ? '' : String(raw) };
    const isRepeat = typeof raw === 'string' && isDitto(raw.trim());
    if (raw !== null && (!isRepeat || id === 'tag' || above === undefined)) {
      return { value: raw, was: null };
    }
    // A blank universe whose address could not be read: that cell says it again.
    if (id === 'universe' && fixture.unread.includes('address')) return { value: null, was: null };
    const fromAbove = isRepeat || readings.some(({ note }) => note.startsWith(MERGED_WITH));
    if (fromAbove && above?.unread === true) return { value: above.content, was: null };
    return { value: UNKNOWN, was: raw === null ? '' : String(raw), remark: unknownRemark };
  }

  /**
   * The value another row of the run states in this column, so that an unreadable cell of its first
   * row need not carry it.
   */
  private standsElsewhere(fixture: Fixture, place: number, value: CellValue): boolean {
    const column = this.columns[place];
    const id = column?.id ?? null;
    if (column === undefined || id === null) return false;
    return this.project.fixtures.some((other) => {
      if (other.run !== fixture.run || other.unread.includes(id)) return false;
      const raw = other.origin?.cells[place] ?? null;
      return this.saysAlone(column, raw, value) || this.wasRead(other, place, id, value);
    });
  }

  /** Whether the cell goes back as unread: it was, and no value has come in its place. */
  private staysUnread(fixture: Fixture, place: number, id: ColumnId, value: CellValue): boolean {
    if (!fixture.unread.includes(id) || fixture.origin === null) return false;
    if (value === null || !this.isFirstOfRun(fixture)) return true;
    return this.standsElsewhere(fixture, place, value);
  }

  /** A cell that was read as nothing though something stands there: blank, or it would come alive again. */
  private deletedCell(fixture: Fixture, place: number, id: ColumnId, raw: CellContent) {
    const struck = this.readingsOf(fixture, place, id).some(({ note }) => note.startsWith(STRUCK));
    const was = String(raw);
    return struck
      ? { value: null, was, remark: `Struck through in the source: ${was}` }
      : { value: null, was };
  }

  private written(column: ColumnReader, value: CellValue): CellContent {
    const { kind, unit } = column;
    if (typeof value !== 'number' || kind === null || kind === 'number') return value;
    const plain = unit !== null && unit.unit !== 'VA' && unit.unit !== 'kVA';
    return plain
      ? contentInUnit(value, unit, kind)
      : textInUnit(value, kind, this.project.settings.displayUnit);
  }

  private quantityCell(fixture: Fixture, raw: CellContent): SourceCellOut {
    const { origin } = fixture;
    const rows = origin === null ? 1 : (this.rowsOf.get(rowKey(origin)) ?? 1);
    if (raw === null || (rows === 1 && Number(raw) === 1)) return { value: raw, was: null };
    return { value: 1, was: String(raw) };
  }

  /** The cell of source column `place` in the row of `fixture`. */
  cell(fixture: Fixture, place: number): SourceCellOut {
    const column = this.columns[place];
    const raw = fixture.origin?.cells[place] ?? null;
    const above = this.above[place];
    const isRepeat = typeof raw === 'string' && isDitto(raw.trim());
    const id = column?.id ?? null;
    const unread = id !== null && fixture.unread.includes(id);
    if (raw !== null && !isRepeat) this.above[place] = { content: raw, unread };
    if (column === undefined || id === null) return { value: raw, was: null };
    if (id === 'quantity') return this.quantityCell(fixture, raw);
    if (columnById(id).edit === 'solved') return { value: null, was: null };
    const ofRun = isRunLevel(id);
    const value = statedValue(fixture, id, this.index);
    if (unread && this.staysUnread(fixture, place, id, value)) {
      return this.unreadCell(fixture, place, id, above);
    }
    if (raw === null && value === null) return { value: null, was: null };
    if (raw !== null && value === null && !isRepeat) {
      const readAsNothing = this.readingsOf(fixture, place, id).some(({ value: v }) => v === null);
      if (typeof raw === 'string' && isDash(raw.trim())) return { value: raw, was: null };
      if (!ofRun || fixture.run !== null || readAsNothing) {
        return this.deletedCell(fixture, place, id, raw);
      }
    }
    if (ofRun && fixture.run === null) return { value: raw, was: null };
    if (ofRun && raw === null) return this.runCell(fixture, place, column, value);
    if (!isRepeat && raw !== null) {
      const same =
        this.saysAlone(column, raw, value) ||
        (showsItself(raw, value, id) && this.wasRead(fixture, place, id, value));
      if (same) return { value: raw, was: null };
    }
    const filled =
      (raw === null || isRepeat) &&
      (this.saysAlone(column, above?.content ?? null, value) ||
        this.wasRead(fixture, place, id, value));
    const changed = fixture.origin !== null && !filled;
    return {
      value: this.written(column, value),
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
    if (!this.isFirstOfRun(fixture)) return { value: null, was: null };
    const stands = fixture.run !== null && this.writtenRuns[place]?.has(fixture.run) === true;
    const read = column.id !== null && this.wasRead(fixture, place, column.id, value);
    const changed = fixture.origin !== null && !stands && !read;
    return { value: this.written(column, value), was: changed ? '' : null };
  }
}
