/** One row of a schedule, cell by cell. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import { columnById, isSourceColumnId } from '../../columns/column-table.ts';
import { whyUnfit } from '../../document/edit-cell.ts';
import type { ProfileId } from '../../document/project.ts';
import type { SourceCell, SourceRow } from '../../document/source-workbook.ts';
import { columnLetters } from '../../document/source-workbook.ts';
import type { QuantityKind } from '../../units/quantity.ts';
import { type LocksOfRow, locksFromText } from '../export/own-columns.ts';
import { type CellReading, lessSure, MERGED_WITH, refused, STRUCK, told } from './cell-reading.ts';
import { cleanText, isBlank, isDitto, textOf } from './cell-text.ts';
import type { ColumnPlan, ReadColumn } from './plan-columns.ts';
import { type AddressReading, readAddressCell } from './read-address-cell.ts';
import { type CountColumn, readCountCell } from './read-count-cell.ts';
import { readLoadCell } from './read-load-cell.ts';
import { readPowerFactorCell } from './read-power-factor-cell.ts';
import { habitOfUnit, readQuantityCell } from './read-quantity-cell.ts';
import { readConductorCell, readTextCell } from './read-text-cell.ts';
import type { ReadingLog } from './reading-log.ts';
import type { PendingLoad, RowDraft } from './row-draft.ts';
import type { SheetHabits } from './sheet-habits.ts';
import type { SheetView } from './sheet-view.ts';

export interface RowReaderParts {
  readonly view: SheetView;
  readonly plan: ColumnPlan;
  readonly habits: SheetHabits;
  readonly log: ReadingLog;
  readonly profile: ProfileId;
  /** Start addresses count through all universes. */
  readonly absoluteAddresses: boolean;
  /** A merged area that begins at or above it belongs to the header. */
  readonly headerRow: number;
}

/** A cell to read, and where it came from when that is not its own place. */
interface Effective {
  readonly cell: SourceCell;
  readonly own: SourceCell | undefined;
  readonly from: string | null;
  readonly merged: boolean;
}

const noLocks: LocksOfRow = { fixture: [], run: [] };

/** What a text says besides a universe and an address: no whole number. */
const notWhole = /[^\d\s+-]/u;

type Drafting = {
  text: Partial<Record<SourceColumnId, string>>;
  number: Partial<Record<SourceColumnId, number>>;
  pendingLoad: PendingLoad | null;
};

const quantityKindOf: Readonly<Record<string, QuantityKind>> = {
  length: 'length',
  power: 'power',
  ratio: 'number',
  voltage: 'voltage',
  current: 'current',
  leakage: 'leakage',
  unitLoad: 'number',
};

const panelAndCircuit = /^(.*\p{L}.*?)\s*[/:]\s*(\d+(?:\s*[,/+&-]\s*\d+)*)$/u;

export class RowReader {
  /** Per column, the last cell that a ditto mark refers to. */
  private readonly above = new Map<number, { readonly cell: SourceCell; readonly row: number }>();
  private readonly hasPanelColumn: boolean;
  /** Columns of the row being read whose cell was refused. */
  private unread = new Set<SourceColumnId>();
  /** Its address was refused, and may have named a universe. */
  private mayNameUniverse = false;

  constructor(private readonly parts: RowReaderParts) {
    this.hasPanelColumn = parts.plan.read.some((column) => column.id === 'panel');
  }

  /** Ditto marks do not reach over a subtotal or a repeated header. */
  forgetAbove(): void {
    this.above.clear();
  }

  /** A row that is skipped but still stands above the next one, such as a struck-through one. */
  rememberAbove(row: SourceRow): void {
    for (const cell of row.cells) {
      if (!isBlank(cell) && !isDitto(textOf(cell)))
        this.above.set(cell.column, { cell, row: row.number });
    }
  }

  /** Reads all columns of a row; what was not plain goes to the log. */
  read(row: SourceRow): RowDraft {
    const drafting: Drafting = { text: {}, number: {}, pendingLoad: null };
    this.unread = new Set();
    this.mayNameUniverse = false;
    const slots: (SourceCell | undefined)[] = [];
    for (const cell of row.cells) slots[cell.column] = cell;
    for (const column of this.parts.plan.read) {
      const effective = this.effective(row, column, slots[column.column]);
      if (effective !== null) this.readCell(row, column, effective, drafting);
    }
    this.splitPanel(row, drafting, slots);
    const { rowIdColumn, locksColumn, homeRunConductorColumn, dataOutputColumn } = this.parts.plan;
    const own = (at: number | null) => (at === null ? null : textOf(slots[at]) || null);
    // "2.1" may have said the universe as well.
    if (this.mayNameUniverse && drafting.number.universe === undefined) this.unread.add('universe');
    return {
      source: row,
      ...drafting,
      unread: this.unread,
      rowId: own(rowIdColumn),
      locks: locksColumn === null ? noLocks : this.readLocks(row, slots[locksColumn]),
      ofRun: {
        homeRunConductor: own(homeRunConductorColumn),
        dataOutput: own(dataOutputColumn),
      },
    };
  }

  private effective(
    row: SourceRow,
    column: ReadColumn,
    own: SourceCell | undefined,
  ): Effective | null {
    const at = column.column;
    if (!isBlank(own) && own !== undefined) {
      if (own.kind !== 'text' || !isDitto(textOf(own))) {
        this.above.set(at, { cell: own, row: row.number });
        return { cell: own, own, from: null, merged: false };
      }
      const above = column.id === 'tag' ? undefined : this.above.get(at);
      if (above === undefined) {
        const why = column.id === 'tag' ? 'a tag cannot be repeated' : 'nothing stands above it';
        this.tell(row, column, own.text, refused(`a ditto mark, but ${why}`));
        return null;
      }
      const from = `${columnLetters(at)}${above.row}`;
      return { cell: above.cell, own, from, merged: false };
    }
    const area = this.parts.view.areaFromAbove(row.number, at);
    if (area === null || area.firstRow <= this.parts.headerRow) return null;
    const cell = this.parts.view.cell(area.firstRow, at);
    if (cell === undefined || isBlank(cell)) return null;
    this.above.set(at, { cell, row: area.firstRow });
    return { cell, own, from: `${columnLetters(at)}${area.firstRow}`, merged: true };
  }

  private tell<T extends string | number>(
    row: SourceRow,
    column: Pick<ReadColumn, 'column' | 'id'>,
    raw: string,
    reading: CellReading<T>,
  ): T | null {
    if (reading.confidence === 'refused' && reading.value === null) this.unread.add(column.id);
    const place = { sheet: this.parts.view.sheet.name, row: row.number, column: column.column };
    return this.parts.log.take(place, raw, column.id, reading);
  }

  /** Adds what the cell's surroundings say: as above, a comment nobody has read. */
  private surrounded<T extends string | number>(
    reading: CellReading<T>,
    { from, merged, own }: Effective,
  ): CellReading<T> {
    let { confidence, note } = reading;
    if (from !== null) {
      confidence = lessSure(confidence, merged ? 'sure' : 'likely');
      const how = merged ? `${MERGED_WITH} ${from}` : `as above, ${from}`;
      note = note === '' ? how : `${how}; ${note}`;
    }
    if (own?.note !== undefined && own.note.trim() !== '') {
      confidence = lessSure(confidence, 'likely');
      const comment = `the cell has a comment, not read as a value: "${cleanText(own.note).slice(0, 300)}"`;
      note = note === '' ? comment : `${note}; ${comment}`;
    }
    return confidence === reading.confidence && note === reading.note
      ? reading
      : { ...reading, confidence, note };
  }

  private readCell(row: SourceRow, column: ReadColumn, effective: Effective, into: Drafting): void {
    const { cell, own } = effective;
    const raw = own?.text ?? '';
    const written = effective.from === null ? cell : own;
    if (written?.struck === true) {
      const gone = told<number>(null, 'guess', STRUCK);
      this.tell(row, column, raw, this.surrounded(gone, effective));
      return;
    }
    const { kind } = columnById(column.id);
    if (column.id === 'address') this.readAddress(row, column, effective, into);
    else if (column.id === 'load') this.readLoad(row, column, effective, into);
    else if (kind === 'text') {
      const reading =
        column.id === 'conductor'
          ? readConductorCell(cell, column.unit, this.parts.profile)
          : readTextCell(cell, column.id);
      const value = this.tell(row, column, raw, this.surrounded(reading, effective));
      if (value !== null) into.text[column.id] = value;
    } else {
      const reading = this.checked(column, this.readNumber(cell, column));
      const value = this.tell(row, column, raw, this.surrounded(reading, effective));
      if (value !== null && into.number[column.id] === undefined) into.number[column.id] = value;
      else if (value !== null && column.id === 'universe')
        this.universeTwice(row, column, raw, value, into);
    }
  }

  private readNumber(cell: SourceCell, column: ReadColumn): CellReading<number> {
    const { kind } = columnById(column.id);
    if (kind === 'integer') return readCountCell(cell, column.id as CountColumn);
    const habit = this.parts.habits.byColumn.get(column.column) ?? habitOfUnit(column.unit);
    if (column.id === 'powerFactor') return readPowerFactorCell(cell, habit);
    return readQuantityCell(cell, quantityKindOf[kind] ?? 'number', habit);
  }

  private checked(column: ReadColumn, reading: CellReading<number>): CellReading<number> {
    // An absurd number stands as it is; its limit finds it.
    const asItStands = column.id === 'quantity' || column.id === 'footprint';
    if (reading.value === null || asItStands) return reading;
    const why = whyUnfit(column.id, reading.value);
    return why === null ? reading : refused(why);
  }

  private readLoad(row: SourceRow, column: ReadColumn, effective: Effective, into: Drafting): void {
    const raw = effective.own?.text ?? '';
    const habit = this.parts.habits.byColumn.get(column.column) ?? habitOfUnit('W');
    const read = readLoadCell(effective.cell, habit);
    if (read.kind !== 'watts') {
      const note = this.surrounded(told<number>(null, 'likely', read.note), effective).note;
      into.pendingLoad = { column: column.column, raw, reading: { ...read, note } };
      return;
    }
    const value = this.tell(row, column, raw, this.surrounded(read.reading, effective));
    if (value !== null) into.number.load = value;
  }

  private readAddress(
    row: SourceRow,
    column: ReadColumn,
    effective: Effective,
    into: Drafting,
  ): void {
    const raw = effective.own?.text ?? '';
    const read: AddressReading = readAddressCell(effective.cell, this.parts.absoluteAddresses);
    const reading = { value: read.address, confidence: read.confidence, note: read.note };
    const value = this.tell(row, column, raw, this.surrounded(reading, effective));
    if (value === null) {
      this.mayNameUniverse = read.confidence === 'refused' && notWhole.test(effective.cell.text);
      return;
    }
    into.number.address = value;
    if (read.universe === null) return;
    const stated = into.number.universe;
    if (stated === undefined) into.number.universe = read.universe;
    else this.universeConflict(row, column, raw, stated, read.universe);
  }

  /** The universe column comes behind the address column, which stated one already: the column wins. */
  private universeTwice(
    row: SourceRow,
    column: ReadColumn,
    raw: string,
    value: number,
    into: Drafting,
  ): void {
    const fromAddress = into.number.universe;
    into.number.universe = value;
    if (fromAddress !== undefined) this.universeConflict(row, column, raw, value, fromAddress);
  }

  private universeConflict(
    row: SourceRow,
    column: ReadColumn,
    raw: string,
    stated: number,
    other: number,
  ): void {
    if (stated === other) return;
    const note = `the universe column says ${stated}, the address ${other}: the universe column was taken`;
    this.tell(row, { id: 'universe', column: column.column }, raw, told(stated, 'guess', note));
  }

  /** `LP-3/14,16` in a circuit column, with no column for the panel. */
  private splitPanel(
    row: SourceRow,
    into: Drafting,
    slots: readonly (SourceCell | undefined)[],
  ): void {
    if (this.hasPanelColumn || into.text.circuit === undefined) return;
    const found = panelAndCircuit.exec(into.text.circuit);
    const column = this.parts.plan.read.find((c) => c.id === 'circuit');
    if (found?.[1] === undefined || found[2] === undefined || column === undefined) return;
    into.text.panel = found[1].trim();
    into.text.circuit = found[2];
    const raw = slots[column.column]?.text ?? '';
    const note = `read as panel ${found[1].trim()}, circuit ${found[2]}`;
    this.tell(row, column, raw, told(found[2], 'likely', note));
  }

  private readLocks(row: SourceRow, cell: SourceCell | undefined): LocksOfRow {
    if (cell === undefined) return noLocks;
    const locks = locksFromText(textOf(cell));
    const unknown = [...locks.fixture, ...locks.run].filter((word) => !isSourceColumnId(word));
    if (unknown.length > 0) {
      const place = { sheet: this.parts.view.sheet.name, row: row.number, column: cell.column };
      const note = `no column ${unknown.map((word) => `"${word}"`).join(', ')} to lock`;
      this.parts.log.add(place, cell.text, 'locks', null, 'refused', note);
    }
    const known = (list: readonly string[]) => [...new Set(list)].filter(isSourceColumnId);
    return { fixture: known(locks.fixture), run: known(locks.run) };
  }
}
