/** The sheets of a package that is being marked up, as they stood before. */
import type { SourceRow, SourceWorkbook } from '../../../src-shared/document/source-workbook.ts';
import { readSourceFile } from '../read-file.ts';
import { refuse } from '../refusal.ts';
import type { PackageEdit } from './package-edit.ts';
import { mapSheet, type SheetMap } from './sheet-map.ts';
import { plainStyles, StylesEdit } from './styles-edit.ts';
import { mapWorkbook, type SheetEntry } from './workbook-map.ts';

export const NEW_INSTEAD = 'Export a new workbook instead.';
const STYLES_TYPE = 'application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml';

function refuseSigned(edit: PackageEdit): void {
  if (!edit.keys().some((key) => key.startsWith('_xmlsignatures/'))) return;
  refuse(
    'signed',
    'The workbook is digitally signed; marks in it would break the signature.',
    edit.fileName,
    `${NEW_INSTEAD} Or open the workbook in a spreadsheet program, save it without its signature, and open that file here.`,
  );
}

function workbookPartOf(edit: PackageEdit): string {
  const links = edit.links('').filter(({ kind }) => kind === 'officeDocument');
  const part = links.find(({ target }) => edit.has(target))?.target ?? 'xl/workbook.xml';
  if (edit.has(part)) return part;
  const what = 'The workbook lacks its main part, the list of its sheets.';
  return refuse('missing-workbook', what, edit.where(part), NEW_INSTEAD);
}

export class BookSheets {
  /** Name of the workbook part. */
  readonly part: string;
  private readonly maps = new Map<string, SheetMap>();
  private shownBook: SourceWorkbook | null | undefined;
  private readonly shownRows = new Map<string, ReadonlyMap<number, SourceRow>>();

  /** @throws RefusalError for a signed package, and for one without workbook */
  constructor(
    readonly edit: PackageEdit,
    private readonly bytes: Uint8Array,
  ) {
    refuseSigned(edit);
    this.part = workbookPartOf(edit);
  }

  /** Sheets with cells, in order. */
  worksheets(): SheetEntry[] {
    const kinds = new Map(this.edit.links(this.part).map((link) => [link.id, link.kind]));
    return mapWorkbook(this.edit, this.part).sheets.filter(
      ({ linkId }) => kinds.get(linkId) === 'worksheet',
    );
  }

  names(): string[] {
    return this.worksheets().map(({ name }) => name);
  }

  /** The part of a sheet as it was before this export; null: the workbook has no such sheet. */
  mapOf(sheet: string): SheetMap | null {
    const known = this.maps.get(sheet);
    if (known !== undefined) return known;
    const entry = this.worksheets().find(({ name }) => name === sheet);
    const link = this.edit.links(this.part).find(({ id }) => id === entry?.linkId);
    const text = link === undefined ? undefined : this.edit.text(link.target);
    if (link === undefined || text === undefined) return null;
    const map = mapSheet(text, link.target, this.edit.where(link.target));
    this.maps.set(sheet, map);
    return map;
  }

  /** The workbook as the reader reads it; null where it does not. */
  book(): SourceWorkbook | null {
    if (this.shownBook === undefined) {
      const read = readSourceFile(this.bytes, this.edit.fileName);
      this.shownBook = read.ok && read.kind === 'workbook' ? read.workbook : null;
    }
    return this.shownBook;
  }

  /** Text of a cell as its format shows it; the whole workbook is read when the first is asked for. */
  shown(sheet: string, row: number, column: number): string | null {
    let rows = this.shownRows.get(sheet);
    if (rows === undefined) {
      const found = this.book()?.sheets.find(({ name }) => name === sheet)?.rows ?? [];
      rows = new Map(found.map((one) => [one.number, one]));
      this.shownRows.set(sheet, rows);
    }
    const cells = rows.get(row)?.cells ?? [];
    return cells.find((cell) => cell.column === column)?.text ?? null;
  }

  /** The styles part to be added to; a workbook without one gets one. */
  styles(mainSpace: string): { readonly part: string; readonly styles: StylesEdit } {
    const { edit } = this;
    const link = edit.links(this.part).find(({ kind }) => kind === 'styles');
    let part = link?.target ?? '';
    if (!edit.has(part)) {
      part = edit.has('xl/styles.xml') ? edit.freeName('xl/styles', '.xml') : 'xl/styles.xml';
      edit.put(part, plainStyles(mainSpace));
      edit.addType(part, STYLES_TYPE);
      edit.addLink(this.part, 'styles', part);
    }
    return { part, styles: new StylesEdit(edit.text(part) ?? '', edit.where(part)) };
  }
}
