/** One row of a schedule, cell by cell. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import { columnById } from '../../columns/column-table.ts';
import type { SourceCell, SourceRow } from '../../document/source-workbook.ts';
import { AddressReader } from './address-of-row.ts';
import { commentNote, noLocks, readLocks, tellCarried } from './carried-cells.ts';
import { type CellReading, MERGED_WITH, refused, STRUCK, told, withNote } from './cell-reading.ts';
import { textOf } from './cell-text.ts';
import { offerFromComment } from './comment-offer.ts';
import { CellsAbove, type Effective } from './effective-cell.ts';
import { foreignNote } from './own-notes.ts';
import type { ReadColumn } from './plan-columns.ts';
import { readLoadCell } from './read-load-cell.ts';
import { readNumberCell, whyNotFit } from './read-number-cell.ts';
import { habitOfUnit } from './read-quantity-cell.ts';
import { readConductorCell, readTextCell } from './read-text-cell.ts';
import type { RowDraft } from './row-draft.ts';
import type { Drafting, RowReaderParts } from './row-reading.ts';
import { staleResult } from './stale-formula.ts';
import { quantityInWords } from './tag-range.ts';

const panelAndCircuit = /^(.*\p{L}.*?)\s*[/:]\s*(\d+(?:\s*[,/+&-]\s*\d+)*)$/u;

/** Words that may carry a quantity behind them: `W5 (qty 2)`. */
const withQuantity: ReadonlySet<SourceColumnId> = new Set<SourceColumnId>(['tag', 'type']);

export class RowReader {
  private readonly above: CellsAbove;
  private readonly addresses: AddressReader;
  private readonly hasPanelColumn: boolean;
  private readonly ownExport: boolean;

  constructor(private readonly parts: RowReaderParts) {
    const { part, view } = parts;
    this.above = new CellsAbove(view, part.header.row);
    this.addresses = new AddressReader(parts, (into, column, raw, reading) =>
      this.tell(into, column, raw, reading),
    );
    this.hasPanelColumn = part.plan.read.some((column) => column.id === 'panel');
    this.ownExport = part.plan.rowIdColumn !== null;
  }

  /** Ditto marks do not reach over a subtotal or a repeated header. */
  forgetAbove(): void {
    this.above.forget();
  }

  /** A row that is skipped but still stands above the next one, such as a struck-through one. */
  rememberAbove(row: SourceRow): void {
    this.above.remember(row);
  }

  /** Reads all columns of a row; what was not plain goes to the log. */
  read(row: SourceRow): RowDraft {
    const { part } = this.parts;
    const into: Drafting = {
      row,
      text: {},
      number: {},
      unread: new Set(),
      pendingLoad: null,
      counted: null,
    };
    const slots: (SourceCell | undefined)[] = [];
    for (const cell of row.cells) slots[cell.column] = cell;
    let mayNameUniverse = false;
    for (const column of part.plan.read) {
      const own = slots[column.column];
      const found = this.above.at(row, column, own);
      if (found === null) this.tellBlank(into, column, own);
      else if ('why' in found) this.tell(into, column, own?.text ?? '', refused(found.why));
      else if (this.readCell(column, found, into)) mayNameUniverse = true;
    }
    // A quantity column says it better than words behind a name.
    if (into.counted !== null) into.number.quantity ??= into.counted;
    this.splitPanel(into, slots);
    this.askFootprint(into, slots);
    tellCarried(part, row);
    const { rowIdColumn, locksColumn, homeRunConductorColumn, dataOutputColumn } = part.plan;
    const own = (at: number | null) => (at === null ? null : textOf(slots[at]) || null);
    // "2.1" may have said the universe as well.
    if (mayNameUniverse && into.number.universe === undefined) into.unread.add('universe');
    return {
      part,
      source: row,
      text: into.text,
      number: into.number,
      pendingLoad: into.pendingLoad,
      unread: into.unread,
      rowIds: own(rowIdColumn)?.split(/\s+/u) ?? [],
      locks: locksColumn === null ? noLocks : readLocks(part, row, slots[locksColumn]),
      ofRun: {
        homeRunConductor: own(homeRunConductorColumn),
        dataOutput: own(dataOutputColumn),
      },
      mergedFrom: [],
      givenBy: new Map(),
    };
  }

  private place(row: SourceRow, column: number) {
    return { sheet: this.parts.view.sheet.name, row: row.number, column };
  }

  private tell<T extends string | number>(
    into: Drafting,
    column: Pick<ReadColumn, 'column' | 'id'>,
    raw: string,
    reading: CellReading<T>,
  ): T | null {
    if (reading.confidence === 'refused' && reading.value === null) into.unread.add(column.id);
    const place = this.place(into.row, column.column);
    return this.parts.part.log.take(place, raw, column.id, reading);
  }

  /** Adds what the cell's surroundings say: as above, in part struck through, a comment nobody has read. */
  private surrounded<T extends string | number>(
    reading: CellReading<T>,
    { from, merged, own, cell }: Effective,
    id: SourceColumnId,
  ): CellReading<T> {
    let next = reading;
    if (from !== null) {
      const how = merged ? `${MERGED_WITH} ${from}` : `as above, ${from}`;
      const note = next.note === '' ? how : `${how}; ${next.note}`;
      next = withNote({ ...next, note: '' }, merged ? 'sure' : 'likely', note);
    }
    if (own?.struckText !== undefined) {
      const note = `"${own.struckText.trim().slice(0, 100)}" is struck through: "${textOf(own)}" was read`;
      next = withNote(next, 'likely', note);
    }
    const stale = staleResult(own);
    if (stale !== null) next = withNote(next, 'guess', stale.note, stale.offer);
    return this.commented(next, own, id, textOf(cell));
  }

  private commented<T extends string | number>(
    reading: CellReading<T>,
    own: SourceCell | undefined,
    id: SourceColumnId,
    text: string,
  ): CellReading<T> {
    const comment = own?.note === undefined ? '' : foreignNote(own.note, this.ownExport);
    if (comment === '') return reading;
    const offer = offerFromComment(comment, id, text) ?? undefined;
    return withNote(reading, 'likely', commentNote(comment), offer);
  }

  /** A comment on a cell that says nothing itself. */
  private tellBlank(into: Drafting, column: ReadColumn, own: SourceCell | undefined): void {
    if (own?.note === undefined) return;
    const reading = this.commented<string>(
      { value: null, confidence: null, note: '' },
      own,
      column.id,
      '',
    );
    this.tell(into, column, '', reading);
  }

  /** Reads one cell; true where a refused address may have named a universe too. */
  private readCell(column: ReadColumn, effective: Effective, into: Drafting): boolean {
    const { cell, own } = effective;
    const { id } = column;
    const raw = own?.text ?? '';
    const written = effective.from === null ? cell : own;
    if (written?.struck === true) {
      const gone = told<number>(null, 'guess', STRUCK);
      this.tell(into, column, raw, this.surrounded(gone, effective, id));
      return false;
    }
    const { kind } = columnById(id);
    if (id === 'address') {
      const surround = <T extends string | number>(reading: CellReading<T>) =>
        this.surrounded(reading, effective, id);
      return this.addresses.read(column, cell, raw, into, surround);
    }
    if (id === 'load') this.readLoad(column, effective, into);
    else if (kind === 'text') this.readText(column, effective, raw, into);
    else {
      const habit = this.parts.habits.byColumn.get(column.column) ?? habitOfUnit(column.unit);
      const read = readNumberCell(cell, id, habit, this.parts.universeBase);
      const reading = whyNotFit(id, read);
      const value = this.tell(into, column, raw, this.surrounded(reading, effective, id));
      if (value !== null) this.putNumber(column, raw, value, into);
    }
    return false;
  }

  private putNumber(column: ReadColumn, raw: string, value: number, into: Drafting): void {
    const { id } = column;
    if (into.number[id] === undefined) into.number[id] = value;
    else if (id === 'universe') this.addresses.universeTwice(column, raw, value, into);
  }

  private readText(column: ReadColumn, effective: Effective, raw: string, into: Drafting): void {
    const { id } = column;
    const { profile, tags } = this.parts;
    let reading =
      id === 'conductor'
        ? readConductorCell(effective.cell, column.unit, profile)
        : readTextCell(effective.cell, id, tags);
    const counted =
      reading.value !== null && withQuantity.has(id) ? quantityInWords(reading.value) : null;
    if (counted !== null) {
      const note = `"${reading.value}" read as ${counted.name}, ${counted.count} fixtures`;
      reading = withNote({ ...reading, value: counted.name }, 'likely', note);
      into.counted = counted.count;
    }
    const value = this.tell(into, column, raw, this.surrounded(reading, effective, id));
    if (value !== null) into.text[id] = value;
  }

  private readLoad(column: ReadColumn, effective: Effective, into: Drafting): void {
    const raw = effective.own?.text ?? '';
    const habit = this.parts.habits.byColumn.get(column.column) ?? habitOfUnit('W');
    const read = readLoadCell(effective.cell, habit);
    if (read.kind !== 'watts') {
      const pending = this.surrounded(told<number>(null, 'likely', read.note), effective, 'load');
      const { note } = pending;
      into.pendingLoad = { column: column.column, raw, reading: { ...read, note } };
      return;
    }
    const value = this.tell(into, column, raw, this.surrounded(read.reading, effective, 'load'));
    if (value !== null) into.number.load = value;
  }

  /** `LP-3/14,16` in a circuit column, with no column for the panel. */
  private splitPanel(into: Drafting, slots: readonly (SourceCell | undefined)[]): void {
    if (this.hasPanelColumn || into.text.circuit === undefined) return;
    const found = panelAndCircuit.exec(into.text.circuit);
    const column = this.parts.part.plan.read.find((c) => c.id === 'circuit');
    if (found?.[1] === undefined || found[2] === undefined || column === undefined) return;
    into.text.panel = found[1].trim();
    into.text.circuit = found[2];
    const raw = slots[column.column]?.text ?? '';
    const poles = found[2].split(/[,/+&-]/u).length;
    const said = poles > 1 ? `, ${poles} poles` : '';
    const note = `read as panel ${found[1].trim()}, circuit ${found[2]}${said}`;
    this.tell(into, column, raw, told(found[2], 'likely', note));
  }

  /** A mode, or a comment on it, that names other channels than the footprint beside it. */
  private askFootprint(into: Drafting, slots: readonly (SourceCell | undefined)[]): void {
    const { read } = this.parts.part.plan;
    const mode = slots[read.find((c) => c.id === 'mode')?.column ?? -1];
    const column = read.find((c) => c.id === 'footprint');
    const { footprint } = into.number;
    if (mode === undefined || column === undefined || footprint === undefined) return;
    const comment = foreignNote(mode.note ?? '', this.ownExport);
    const commented = /^\d{1,3}/u.exec(offerFromComment(comment, 'mode', textOf(mode)) ?? '')?.[0];
    const named = /^(\d{1,3})[\s-]*(?:chs?|channels?|slots?)$/iu.exec(textOf(mode))?.[1];
    const offer = commented ?? named;
    if (offer === undefined || Number(offer) === footprint) return;
    const who = commented === undefined ? 'the mode' : 'the comment on the mode';
    const note = `${who} says ${offer} channels, this cell ${footprint}, which was read`;
    const raw = slots[column.column]?.text ?? '';
    this.tell(into, column, raw, { ...told(footprint, 'guess', note), offer });
  }
}
