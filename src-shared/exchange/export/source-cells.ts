/** The engineer's own cells as they go back: raw where nothing was edited, else the new value. */
import { type ColumnId, columnById } from '../../columns/column-table.ts';
import type { CellValue } from '../../document/edit-cell.ts';
import { columnOf, originsOf, sheetOf } from '../../document/import-answers.ts';
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
import { cleanText, isDash, isDitto } from '../schedule/cell-text.ts';
import { answeredText, isOfAnswer } from '../schedule/reading-log.ts';
import {
  type AddressNotation,
  addressSaid,
  notationOf,
  writtenAddress,
} from './address-notation.ts';
import type { CellContent } from './export-table.ts';
import { NumberHabits } from './number-habits.ts';
import { contentInUnit, isNear, quantityKindOf, textInUnit, unitOfColumn } from './source-units.ts';
import { indexStated, isRunLevel, type StatedIndex, statedValue } from './stated-value.ts';

export interface SourceCellOut {
  readonly value: CellContent;
  /** What the source file had, when that is no longer what the cell says; null: it is. */
  readonly was: string | null;
  /** Said in place of that. */
  readonly remark?: string;
  /** The sheet's way of writing cannot say the value; `value` is what it has. */
  readonly unsayable?: true;
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

const disputedRemark =
  'Not known: the files say different things here, or what they say could not be read';

interface ColumnReader {
  readonly id: ColumnId | null;
  readonly kind: QuantityKind | null;
  readonly unit: UnitOfQuantity | null;
  /** Unit as its header states it. */
  readonly headerUnit: string | null;
  /** What raw contents are read as on their own, by content. */
  readonly read: Map<string, number | null>;
}

function sameText(raw: string, value: string, id: ColumnId, unit: string | null): boolean {
  if (normaliseText(raw) === normaliseText(value)) return true;
  if (id !== 'conductor') return false;
  const right = parseConductorSize(value);
  if (!right.ok) return false;
  // A bare size has the unit of its header, and maybe a decimal comma.
  const plain = raw.trim().replace(/^(\d+),(\d+)/u, '$1.$2');
  return [raw, `${plain} ${unit ?? ''}`].some((text) => {
    const left = parseConductorSize(text);
    return (
      left.ok && JSON.stringify({ ...left, notes: [] }) === JSON.stringify({ ...right, notes: [] })
    );
  });
}

/** A text of blanks only is no content. */
function notBlank(raw: CellContent): CellContent {
  return typeof raw === 'string' && cleanText(raw) === '' ? null : raw;
}

/** `LP-3/14,16`: a panel and its circuit in one cell, as the import takes them apart. */
const panelAndCircuit = /^(.*\p{L}.*?)\s*[/:]\s*(\d+(?:\s*[,/+&-]\s*\d+)*)$/u;

const isoDate = /^\d{4}-\d{2}-\d{2}/u;

/** False where words were read from what a format showed (`1.50`, `4-Mar`): the stored value shows otherwise. */
function showsItself(raw: CellContent, value: CellValue, id: ColumnId): boolean {
  if (typeof value !== 'string' || id === 'conductor') return true;
  return typeof raw === 'string' && !isoDate.test(raw);
}

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
  private readonly notations = new Map<string, AddressNotation>();
  private readonly joining = new Map<string, boolean>();
  private readonly habits: NumberHabits;

  constructor(
    private readonly project: Project,
    private readonly source: ScheduleSource,
    private readonly options: SourceCellOptions = {},
  ) {
    this.index = indexStated(project);
    this.columns = source.columns.map((column, place) => {
      const id = column.columnId as ColumnId | null;
      const kind = id === null ? null : quantityKindOf(id);
      const unit =
        id === null ? null : unitOfColumn(column, place, id, project.fixtures, this.index);
      return { id, kind, unit, headerUnit: column.unit, read: new Map() };
    });
    this.habits = new NumberHabits(project.fixtures, source.columns.length);
    this.writtenRuns = source.columns.map(() => new Set());
    for (const reading of source.readings) {
      const list = this.readings.get(reading.cell);
      if (list === undefined) this.readings.set(reading.cell, [reading]);
      else list.push(reading);
    }
    for (const fixture of project.fixtures) {
      const { run, id } = fixture;
      if (run !== null && !this.firstOfRun.has(run)) this.firstOfRun.set(run, id);
      for (const origin of this.origins(fixture)) {
        const key = rowKey(origin);
        this.rowsOf.set(key, (this.rowsOf.get(key) ?? 0) + 1);
        if (run === null) continue;
        origin.cells.forEach((cell, place) => {
          if (cell !== null) this.writtenRuns[place]?.add(run);
        });
      }
    }
  }

  private origins(fixture: Fixture): readonly RowOrigin[] {
    const { file } = this.options;
    const all = originsOf(fixture);
    return file === undefined ? all : all.filter((origin) => origin.file === file);
  }

  /** The source row that has the column, the first with something in it; the first of all where none has. */
  originAt(fixture: Fixture, place: number): RowOrigin | null {
    const [first = null, ...more] = this.origins(fixture);
    if (more.length === 0) return first;
    const having = [first, ...more].filter(
      (origin) => origin !== null && columnOf(this.source, origin, place) !== null,
    );
    return (
      having.find((origin) => notBlank(origin?.cells[place] ?? null) !== null) ?? having[0] ?? first
    );
  }

  /** The row's sheet lacks the column and has another that says the same: files name it differently. */
  hasTwin(fixture: Fixture, place: number): boolean {
    const id = this.columns[place]?.id ?? null;
    const origin = this.originAt(fixture, place);
    if (id === null || origin === null || columnOf(this.source, origin, place) !== null)
      return false;
    return this.columns.some(
      (column, other) => column.id === id && columnOf(this.source, origin, other) !== null,
    );
  }

  private rawAt(fixture: Fixture, place: number): CellContent {
    return notBlank(this.originAt(fixture, place)?.cells[place] ?? null);
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
    if (typeof value === 'string')
      return sameText(String(raw), value, column.id, column.headerUnit);
    if (typeof raw === 'number' && column.kind === 'length' && column.unit === null) return false;
    const read = this.readAlone(column, raw);
    return read !== null && isNear(read, value);
  }

  private readingsOf(fixture: Fixture, place: number, id: ColumnId): readonly Reading[] {
    const origin = this.originAt(fixture, place);
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
    const raw = this.rawAt(fixture, place);
    const readings = this.readingsOf(fixture, place, id);
    const answered = readings.map(answeredText).find((text) => text !== null) ?? null;
    if (answered !== null) return { value: answered, was: raw === null ? '' : String(raw) };
    const isRepeat = typeof raw === 'string' && isDitto(raw.trim());
    const isDisputed = this.options.inPlace !== true && fixture.alsoFrom.length > 0;
    if (isDisputed && answered === null) {
      return { value: UNKNOWN, was: raw === null ? '' : String(raw), remark: disputedRemark };
    }
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
      const raw = this.rawAt(other, place);
      return this.saysAlone(column, raw, value) || this.wasRead(other, place, id, value);
    });
  }

  /** Whether the cell goes back as unread: it was, and no value has come in its place. */
  private staysUnread(fixture: Fixture, place: number, id: ColumnId, value: CellValue): boolean {
    if (!fixture.unread.includes(id) || this.originAt(fixture, place) === null) return false;
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

  private written(column: ColumnReader, place: number, value: CellValue): CellContent {
    const { kind, unit } = column;
    if (typeof value !== 'number' || kind === null) return value;
    const plain = unit !== null && unit.unit !== 'VA' && unit.unit !== 'kVA';
    const content =
      kind === 'number'
        ? value
        : plain
          ? contentInUnit(value, unit, kind)
          : textInUnit(value, kind, this.project.settings.displayUnit);
    return this.options.inPlace === true ? this.habits.written(place, content) : content;
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

  /** What states panel and circuit together, where the sheet has no column for the panel alone. */
  private circuitCell(
    fixture: Fixture,
    origin: RowOrigin | null,
    raw: CellContent,
    place: number,
  ): SourceCellOut | null {
    const isPlaced = this.options.inPlace === true;
    const like = origin ?? (isPlaced ? this.likelyOrigin(place) : null);
    if (like === null || fixture.run === null || !this.joinsPanel(like, place)) return null;
    const [panel, circuit] = (['panel', 'circuit'] as const).map((id) =>
      statedValue(fixture, id, this.index),
    );
    if (typeof circuit !== 'string') return null;
    const text = raw === null ? '' : String(raw);
    const found = panelAndCircuit.exec(text);
    const same = found?.[1]?.trim() === panel && found?.[2] === circuit;
    if (same && isPlaced) return { value: raw, was: null };
    if (raw === null && !this.isFirstOfRun(fixture)) return null;
    const stands = raw === null && this.writtenRuns[place]?.has(fixture.run) === true;
    if (stands && isPlaced) return { value: null, was: null };
    const value = isPlaced && typeof panel === 'string' ? `${panel}/${circuit}` : circuit;
    return { value, was: origin === null || same || stands ? null : text };
  }

  /** The sheet writes panel and circuit in one cell, such as `LP-3/14,16`. */
  joinsPanel(origin: RowOrigin, place: number): boolean {
    const key = `${origin.file}\u0000${origin.sheet}`;
    let joins = this.joining.get(key);
    if (joins === undefined) {
      const hasPanel = this.columns.some(
        ({ id }, other) => id === 'panel' && columnOf(this.source, origin, other) !== null,
      );
      joins =
        !hasPanel &&
        this.project.fixtures.some((fixture) => {
          const raw = this.origins(fixture).find(
            (o) => o.file === origin.file && o.sheet === origin.sheet,
          )?.cells[place];
          return typeof raw === 'string' && panelAndCircuit.test(raw);
        });
      this.joining.set(key, joins);
    }
    return joins;
  }

  private hasUniverseColumn(origin: RowOrigin): boolean {
    return this.source.columns.some(
      ({ columnId }, place) =>
        columnId === 'universe' && columnOf(this.source, origin, place) !== null,
    );
  }

  /** How the row's sheet writes addresses in column `place`. */
  notationAt(origin: RowOrigin, place: number): AddressNotation {
    const key = `${origin.file}\u0000${origin.sheet}\u0000${place}`;
    let notation = this.notations.get(key);
    if (notation === undefined) {
      const raws = this.addressesOf(origin.file, origin.sheet);
      notation = notationOf(raws, true);
      // Counted through all universes or not: that holds for a file as a whole.
      if (notation.kind === 'slot' && this.countsThrough(origin.file)) {
        notation = { kind: 'absolute' };
      }
      this.notations.set(key, notation);
    }
    return notation;
  }

  /** The file's addresses are counted through all universes, as the import tells. */
  countsThrough(file: number): boolean {
    const hasUniverse = this.source.sheets.some(
      (read) =>
        read.file === file &&
        this.columns.some(({ id }, p) => id === 'universe' && (read.columnAt[p] ?? null) !== null),
    );
    return notationOf(this.addressesOf(file, null), hasUniverse).kind === 'absolute';
  }

  private addressesOf(file: number, sheet: string | null): CellContent[] {
    const places = this.columns.flatMap(({ id }, place) => (id === 'address' ? [place] : []));
    return this.project.fixtures.flatMap((fixture) =>
      originsOf(fixture)
        .filter((o) => o.file === file && (sheet === null || o.sheet === sheet))
        .flatMap((o) => places.map((place) => o.cells[place] ?? null)),
    );
  }

  /**
   * A universe or address where the sheet counts universes from 0, or writes both in one cell. Null:
   * the cell is one like any other.
   */
  private slotCell(
    fixture: Fixture,
    place: number,
    id: 'universe' | 'address',
    origin: RowOrigin | null,
    raw: CellContent,
    unread: boolean,
  ): SourceCellOut | null {
    const { universe, address } = fixture;
    const isPlaced = this.options.inPlace === true;
    const like = origin ?? (isPlaced ? this.likelyOrigin(place) : null);
    if (like === null || unread) return null;
    const base = sheetOf(this.source, like)?.universeBase ?? 1;
    const isRepeat = typeof raw === 'string' && isDitto(raw.trim());
    if (id === 'universe') {
      if (base === 1 || universe === null || isRepeat) return null;
      const said = typeof raw === 'number' || typeof raw === 'string' ? Number(raw) : Number.NaN;
      const same = raw !== null && raw !== '' && said + 1 === universe;
      if (same && isPlaced) return { value: raw, was: null };
      const was = origin === null || same ? null : raw === null ? '' : String(raw);
      return { value: isPlaced ? universe - 1 : universe, was };
    }
    const notation = this.notationAt(like, place);
    if (address === null && isPlaced && notation.kind === 'absolute' && universe !== null) {
      return { value: raw, was: raw === null ? '' : String(raw), unsayable: true };
    }
    if (address === null || isRepeat || (notation.kind === 'slot' && base === 1)) return null;
    const said = addressSaid(raw, notation, base);
    // A universe on which the files do not agree is not this cell's to settle.
    const isOpen = isPlaced && universe === null && fixture.unread.includes('universe');
    const same =
      said !== null &&
      said.address === address &&
      (said.universe === null ||
        isOpen ||
        this.hasUniverseColumn(like) ||
        said.universe === universe);
    const stays = same && (isPlaced || (base === 1 && notation.kind === 'pair'));
    if (stays) return { value: raw, was: null };
    if (said === null && raw !== null && this.wasRead(fixture, place, id, address)) return null;
    const value = isPlaced ? writtenAddress(fixture, notation, base) : address;
    const was = origin === null || same ? null : raw === null ? '' : String(raw);
    return value === undefined ? { value: raw, was: was ?? '', unsayable: true } : { value, was };
  }

  /** A row of the file for one that has none: new rows are written like the others. */
  private likelyOrigin(place: number): RowOrigin | null {
    for (const fixture of this.project.fixtures) {
      const found = this.origins(fixture).find((o) => columnOf(this.source, o, place) !== null);
      if (found !== undefined) return found;
    }
    return null;
  }

  private quantityCell(origin: RowOrigin | null, raw: CellContent): SourceCellOut {
    const rows = origin === null ? 1 : (this.rowsOf.get(rowKey(origin)) ?? 1);
    if (raw === null || (rows === 1 && Number(raw) === 1)) return { value: raw, was: null };
    return { value: 1, was: String(raw) };
  }

  /** What the document says in source column `place` for a fixture. */
  stated(fixture: Fixture, place: number): CellValue {
    const id = this.columns[place]?.id ?? null;
    return id === null ? null : statedValue(fixture, id, this.index);
  }

  /** A file says in this or another column what the document says. */
  says(fixture: Fixture, id: ColumnId): boolean {
    return this.columns.some((column, place) => {
      if (column.id !== id) return false;
      const origin = this.originAt(fixture, place);
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
    if (out.was === null || id === null || this.origins(fixture).length < 2) return out;
    if (out.remark !== undefined || fixture.unread.includes(id)) return out;
    return this.says(fixture, id) ? { value: out.value, was: null } : out;
  }

  private cellOf(fixture: Fixture, place: number): SourceCellOut {
    const column = this.columns[place];
    const origin = this.originAt(fixture, place);
    const raw = notBlank(origin?.cells[place] ?? null);
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
      const out = this.slotCell(fixture, place, id, origin, raw, unread);
      if (out !== null) return out;
    }
    if (id === 'circuit' && !unread && !isRepeat) {
      const out = this.circuitCell(fixture, origin, raw, place);
      if (out !== null) return out;
    }
    if (unread && this.staysUnread(fixture, place, id, value)) {
      return this.unreadCell(fixture, place, id, above);
    }
    if (raw === null && value === null) return { value: null, was: null };
    if (raw !== null && value === null && !isRepeat) {
      const readAsNothing = this.readingsOf(fixture, place, id).some(({ value: v }) => v === null);
      if (typeof raw === 'string' && isDash(raw.trim())) return { value: raw, was: null };
      if (readAsNothing && this.options.inPlace === true) return { value: raw, was: null };
      if (!ofRun || fixture.run !== null || readAsNothing) {
        return this.deletedCell(fixture, place, id, raw);
      }
    }
    if (ofRun && fixture.run === null) return { value: raw, was: null };
    if (ofRun && raw === null) return this.runCell(fixture, place, column, value);
    if (!isRepeat && raw !== null) {
      const same =
        this.saysAlone(column, raw, value) ||
        ((this.options.inPlace === true || showsItself(raw, value, id)) &&
          this.wasRead(fixture, place, id, value)) ||
        this.isShown(origin, place, raw, value);
      if (same) return { value: raw, was: null };
    }
    const filled =
      (raw === null || isRepeat) &&
      (this.saysAlone(column, above?.content ?? null, value) ||
        this.wasRead(fixture, place, id, value));
    const changed = origin !== null && !filled && !this.hasTwin(fixture, place);
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
    if (!this.isFirstOfRun(fixture)) return { value: null, was: null };
    const stands = fixture.run !== null && this.writtenRuns[place]?.has(fixture.run) === true;
    const read = column.id !== null && this.wasRead(fixture, place, column.id, value);
    const isTwin = this.hasTwin(fixture, place);
    const changed = this.originAt(fixture, place) !== null && !stands && !read && !isTwin;
    return { value: this.written(column, place, value), was: changed ? '' : null };
  }
}
