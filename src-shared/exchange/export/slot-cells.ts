/** Universes and addresses in sheets that count universes from 0, or write both in one cell. */
import type { ColumnId } from '../../columns/column-table.ts';
import type { CellValue } from '../../document/edit-cell.ts';
import { originsOf, sheetOf } from '../../document/import-answers.ts';
import type { Fixture, RowOrigin } from '../../document/project.ts';
import { isDitto } from '../schedule/cell-text.ts';
import {
  type AddressNotation,
  addressSaid,
  notationOf,
  writtenAddress,
} from './address-notation.ts';
import type { CellContent } from './export-table.ts';
import type { SourceCellOut } from './source-cell-out.ts';
import type { SourceRows } from './source-rows.ts';

/** Whether a cell was read as a value, by the import report. */
export type WasRead = (fixture: Fixture, place: number, id: ColumnId, value: CellValue) => boolean;

const unsayable =
  'its addresses are counted through all universes, and one of the two is not known';

export class SlotCells {
  private readonly notations = new Map<string, AddressNotation>();

  constructor(
    private readonly rows: SourceRows,
    private readonly isPlaced: boolean,
    private readonly wasRead: WasRead,
  ) {}

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
    const hasUniverse = this.rows.source.sheets.some(
      (read) =>
        read.file === file &&
        this.rows.source.columns.some(
          ({ columnId }, p) => columnId === 'universe' && (read.columnAt[p] ?? null) !== null,
        ),
    );
    return notationOf(this.addressesOf(file, null), hasUniverse).kind === 'absolute';
  }

  private addressesOf(file: number, sheet: string | null): CellContent[] {
    const places = this.rows.source.columns.flatMap(({ columnId }, place) =>
      columnId === 'address' ? [place] : [],
    );
    return this.rows.project.fixtures.flatMap((fixture) =>
      originsOf(fixture)
        .filter((o) => o.file === file && (sheet === null || o.sheet === sheet))
        .flatMap((o) => places.map((place) => o.cells[place] ?? null)),
    );
  }

  /**
   * A universe or address where the sheet counts universes from 0, or writes both in one cell. Null:
   * the cell is one like any other.
   */
  cell(
    fixture: Fixture,
    place: number,
    id: 'universe' | 'address',
    origin: RowOrigin | null,
    raw: CellContent,
    unread: boolean,
  ): SourceCellOut | null {
    const { universe, address } = fixture;
    const { isPlaced } = this;
    const like = origin ?? (isPlaced ? this.rows.likelyOrigin(place) : null);
    if (like === null || unread) return null;
    const base = sheetOf(this.rows.source, like)?.universeBase ?? 1;
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
      return { value: raw, was: raw === null ? '' : String(raw), unsayable };
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
        this.rows.sheetHas(like, 'universe') ||
        said.universe === universe);
    const stays = same && (isPlaced || (base === 1 && notation.kind === 'pair'));
    if (stays) return { value: raw, was: null };
    if (said === null && raw !== null && this.wasRead(fixture, place, id, address)) return null;
    const value = isPlaced ? writtenAddress(fixture, notation, base) : address;
    const was = origin === null || same ? null : raw === null ? '' : String(raw);
    return value === undefined ? { value: raw, was: was ?? '', unsayable } : { value, was };
  }
}
