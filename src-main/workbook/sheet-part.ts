import { columnLetters, type MergedArea } from '../../src-shared/document/source-workbook.ts';
import { SHEET_LAST_COLUMN } from './read-limits.ts';
import { type RichText, RichTextCollector } from './rich-text.ts';
import type { SheetContext } from './sheet-context.ts';
import { parseMerge } from './sheet-merges.ts';
import { type OpenRow, SheetRows, type StoredFormula } from './sheet-rows.ts';
import { attributeOf, isOn, walkXml, type XmlAttributes, type XmlHandler } from './xml-walk.ts';

/** A sheet part as read, before merged areas are settled and notes attached. */
export interface SheetPart {
  readonly rows: OpenRow[];
  readonly merges: MergedArea[];
  /** Hidden columns as letters: `C`, `F:G`. */
  readonly hiddenColumns: readonly string[];
}

type Capture = 'v' | 'f' | 'is' | undefined;

/** Follows the elements of a sheet; unknown ones are passed by, extension lists whole. */
class SheetHandler implements XmlHandler {
  readonly rows: SheetRows;
  readonly merges: MergedArea[] = [];
  readonly hiddenColumns: string[] = [];
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
    else if (name === 'col') this.#column(attributes);
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
    if (this.#capture === 'v') this.#stored = this.#captured;
    else if (this.#capture === 'f') {
      this.#formula = { text: this.#captured.trim(), shared: this.#sharedGroup };
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
    const area = parseMerge(attributeOf(attributes, 'ref') ?? '');
    if (area) this.merges.push(area);
  }

  #column(attributes: XmlAttributes): void {
    const width = attributeOf(attributes, 'width');
    const flat = width !== undefined && Number(width) === 0;
    if (!flat && !isOn(attributeOf(attributes, 'hidden'))) return;
    const first = Number(attributeOf(attributes, 'min')) - 1;
    const last = Math.min(Number(attributeOf(attributes, 'max')) - 1, SHEET_LAST_COLUMN);
    if (!(first >= 0 && first <= last) || this.hiddenColumns.length >= 20) return;
    const from = columnLetters(first);
    this.hiddenColumns.push(first === last ? from : `${from}:${columnLetters(last)}`);
  }
}

/**
 * Reads the cells, merged areas and hidden columns of a sheet part in one pass.
 * @throws RefusalError over a limit, on broken XML or missing texts
 */
export function readSheetPart(
  bytes: Uint8Array,
  partName: string,
  sheet: string,
  context: SheetContext,
): SheetPart {
  context.budget.guardLargePart(bytes, sheet);
  const handler = new SheetHandler(sheet, context);
  walkXml(bytes, context.parts.where(partName), handler);
  return {
    rows: handler.rows.finish(),
    merges: handler.merges,
    hiddenColumns: handler.hiddenColumns,
  };
}
