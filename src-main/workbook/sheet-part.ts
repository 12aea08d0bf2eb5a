import type {
  MergedArea,
  SourceRow,
  SourceSheet,
} from '../../src-shared/document/source-workbook.ts';
import { findHeader } from '../../src-shared/exchange/schedule/find-header.ts';
import { parseArea } from './cell-address.ts';
import { detached } from './escaped-text.ts';
import { PART_ROOTS } from './part-roots.ts';
import { OverLimitError } from './read-budget.ts';
import { RefusalError } from './refusal.ts';
import { type RichText, RichTextCollector } from './rich-text.ts';
import { HiddenColumns } from './sheet-columns.ts';
import type { SheetContext } from './sheet-context.ts';
import { FilterCollector } from './sheet-filters.ts';
import { type OpenRow, SheetRows, type StoredFormula } from './sheet-rows.ts';
import { attributeOf, isOn, walkXml, type XmlAttributes, type XmlHandler } from './xml-walk.ts';

/** A sheet part as read, before merged areas are settled and notes attached. */
export interface SheetPart {
  readonly rows: OpenRow[];
  readonly merges: MergedArea[];
  /** Merged areas whose place could not be read. */
  readonly lostMerges: number;
  /** Filled cells that point to a style the workbook lacks. */
  readonly lostStyles: number;
  /** Hidden columns that hold a cell, zero-based. */
  readonly hiddenColumns: readonly number[];
  /** Areas of the sheet's own filters that are set. */
  readonly filters: readonly MergedArea[];
}

type Capture = 'v' | 'f' | 'is' | undefined;

/** Follows the elements of a sheet; unknown ones are passed by, extension lists whole. */
class SheetHandler implements XmlHandler {
  readonly rows: SheetRows;
  readonly merges: MergedArea[] = [];
  readonly hiddenColumns = new HiddenColumns();
  readonly filters = new FilterCollector();
  lostMerges = 0;
  readonly #context: SheetContext;
  readonly #sheet: string;
  readonly #rich = new RichTextCollector();
  #extensions = 0;
  #inData = false;
  #inRow = false;
  #inCell = false;
  #capture: Capture;
  #captured = '';
  #type = 'n';
  #style = 0;
  #stored: string | undefined;
  #inline: RichText | undefined;
  #formula: StoredFormula | undefined;
  #sharedGroup: string | undefined;

  constructor(sheet: string, context: SheetContext) {
    this.#sheet = sheet;
    this.#context = context;
    this.rows = new SheetRows(sheet, context);
  }

  open(name: string, attributes: XmlAttributes): void {
    if (name === 'extLst') this.#extensions++;
    if (this.#extensions > 0) return;
    if (this.#capture === 'is') this.#rich.open(name, attributes);
    else if (this.#inCell) this.#openInCell(name, attributes);
    else if (this.#inRow) {
      if (name === 'c') this.#openCell(attributes);
    } else if (this.#inData) {
      if (name === 'row') this.#openRow(attributes);
    } else if (name === 'sheetData') this.#inData = true;
    else if (name === 'mergeCell') this.#merge(attributes);
    else if (name === 'col') this.hiddenColumns.add(attributes);
    else this.filters.open(name, attributes);
  }

  text(text: string): void {
    if (this.#capture === 'is') this.#rich.text(text);
    else if (this.#capture !== undefined) this.#captured += text;
  }

  close(name: string): void {
    if (this.#extensions > 0) {
      if (name === 'extLst') this.#extensions--;
      return;
    }
    if (this.#capture !== undefined && name === this.#capture) this.#endCapture();
    else if (this.#capture === 'is') this.#rich.close(name);
    else if (this.#inCell) {
      if (name === 'c') this.#closeCell();
    } else if (this.#inRow) {
      if (name === 'row') {
        this.#inRow = false;
        this.rows.endRow();
      }
    } else if (name === 'sheetData') this.#inData = false;
    else this.filters.close(name);
  }

  #openRow(attributes: XmlAttributes): void {
    this.#inRow = true;
    const height = attributeOf(attributes, 'ht');
    const flat = height !== undefined && Number(height) === 0;
    const hidden = flat || isOn(attributeOf(attributes, 'hidden'));
    this.rows.startRow(attributeOf(attributes, 'r'), hidden);
  }

  #openCell(attributes: XmlAttributes): void {
    this.#inCell = true;
    this.#type = attributes.t ?? 'n';
    this.#style = attributes.s === undefined ? 0 : Number(attributes.s);
    this.#stored = undefined;
    this.#inline = undefined;
    this.#formula = undefined;
    this.rows.placeCell(attributes.r);
  }

  #openInCell(name: string, attributes: XmlAttributes): void {
    if (name !== 'v' && name !== 'f' && name !== 'is') return;
    this.#capture = name;
    this.#captured = '';
    if (name === 'f')
      this.#sharedGroup = attributes.t === 'shared' ? (attributes.si ?? '') : undefined;
  }

  #endCapture(): void {
    if (this.#capture === 'v') this.#stored = detached(this.#captured);
    else if (this.#capture === 'f') {
      this.#formula = { text: detached(this.#captured.trim()), shared: this.#sharedGroup };
    } else this.#inline = this.#rich.take();
    this.#capture = undefined;
  }

  #closeCell(): void {
    this.#inCell = false;
    if (this.#stored === undefined && !this.#inline && !this.#formula) return;
    this.rows.endCell(
      {
        type: this.#type,
        style: this.#style,
        stored: this.#stored,
        inline: this.#inline,
        hasFormula: this.#formula !== undefined,
      },
      this.#formula,
    );
  }

  #merge(attributes: XmlAttributes): void {
    this.#context.budget.addMerge(this.#sheet);
    const area = parseArea(attributeOf(attributes, 'ref') ?? '');
    if (!area) this.lostMerges++;
    else if (area.firstRow !== area.lastRow || area.firstColumn !== area.lastColumn) {
      this.merges.push(area);
    }
  }
}

/** A sheet without schedule that is too large: the others may still be read. */
export class LeftOutError extends RefusalError {}

/** Whether a schedule's header stands in the rows read before the limit. */
function holdsSchedule(rows: readonly SourceRow[]): boolean {
  const sheet: SourceSheet = { name: 'so far', hidden: false, rows, merges: [] };
  return findHeader(sheet, new Map()) !== null;
}

/**
 * Reads the cells, merged areas and hidden columns of a sheet part in one pass.
 * @throws RefusalError over a limit, on broken XML or missing texts; `LeftOutError` when it is over a
 *   limit and no schedule was found in it so far
 */
export function readSheetPart(
  bytes: Uint8Array,
  partName: string,
  sheet: string,
  context: SheetContext,
): SheetPart {
  const handler = new SheetHandler(sheet, context);
  try {
    walkXml(bytes, context.parts.where(partName), handler, PART_ROOTS.sheet);
  } catch (error) {
    // A large sheet beside the schedule is no reason to refuse the file.
    if (!(error instanceof OverLimitError) || holdsSchedule(handler.rows.rows)) throw error;
    throw new LeftOutError(error.refusal);
  }
  const rows = handler.rows.finish();
  return {
    rows,
    merges: handler.merges,
    lostMerges: handler.lostMerges,
    lostStyles: handler.rows.lostStyles,
    hiddenColumns: handler.hiddenColumns.inUse(rows),
    filters: handler.filters.areas,
  };
}
