/** The start address of a row, and the universe it may name beside the universe column. */
import type { SourceCell } from '../../document/source-workbook.ts';
import { type CellReading, told } from './cell-reading.ts';
import type { ReadColumn } from './plan-columns.ts';
import { readAddressCell } from './read-address-cell.ts';
import type { Drafting, RowReaderParts } from './row-reading.ts';

type Tell = (
  into: Drafting,
  column: Pick<ReadColumn, 'column' | 'id'>,
  raw: string,
  reading: CellReading<number>,
) => number | null;

/** What a text says besides a universe and an address: no whole number. */
const notWhole = /[^\d\s+-]/u;

export class AddressReader {
  constructor(
    private readonly parts: Pick<
      RowReaderParts,
      'absoluteAddresses' | 'universeBase' | 'pointPairs' | 'hyphens'
    >,
    private readonly tell: Tell,
  ) {}

  /** Reads it; true where it was refused and may have named a universe too. */
  read(
    column: ReadColumn,
    cell: SourceCell,
    raw: string,
    into: Drafting,
    surround: (reading: CellReading<number>) => CellReading<number>,
  ): boolean {
    const { absoluteAddresses: absolute, universeBase, pointPairs: points, hyphens } = this.parts;
    const read = readAddressCell(cell, { absolute, universeBase, points, hyphens });
    const reading = { value: read.address, confidence: read.confidence, note: read.note };
    const value = this.tell(into, column, raw, surround(reading));
    if (value !== null) into.number.address = value;
    else if (read.universe === null)
      return read.confidence === 'refused' && notWhole.test(cell.text);
    if (read.universe === null) return false;
    const stated = into.number.universe;
    if (stated === undefined) into.number.universe = read.universe;
    else this.conflict(column, raw, stated, read.universe, into);
    return false;
  }

  /** The universe column comes behind the address column, which stated one already: the column wins. */
  universeTwice(column: ReadColumn, raw: string, value: number, into: Drafting): void {
    const fromAddress = into.number.universe;
    into.number.universe = value;
    if (fromAddress !== undefined) this.conflict(column, raw, value, fromAddress, into);
  }

  private conflict(
    column: ReadColumn,
    raw: string,
    stated: number,
    other: number,
    into: Drafting,
  ): void {
    if (stated === other) return;
    const note = `the universe column says ${stated}, the address ${other}: the universe column was taken`;
    this.tell(into, { id: 'universe', column: column.column }, raw, told(stated, 'guess', note));
  }
}
