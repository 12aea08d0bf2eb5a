/** Our own sheets behind the engineer's. */
import { nameBeside, ownSheetOf } from '../../../src-shared/exchange/sheet-names.ts';
import { cellXml } from './cell-xml.ts';
import { type SheetDraft, sheetXml } from './graft-sheet.ts';
import { LOOKS_SHEET, markOfSheet } from './own-traces.ts';
import type { PackageEdit } from './package-edit.ts';
import { titleRows } from './print-areas.ts';
import { quotedSheet } from './references.ts';
import { writeNotes } from './sheet-notes-edit.ts';
import type { StylesEdit } from './styles-edit.ts';
import { addNames, addSheets, type NewName, type NewSheet } from './workbook-edit.ts';

const SHEET_TYPE = 'application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml';

export interface Graft {
  readonly name: string;
  readonly draft: SheetDraft;
}

export interface GraftPlace {
  readonly edit: PackageEdit;
  readonly workbookPart: string;
  readonly styles: StylesEdit;
  readonly mainSpace: string;
  readonly linkSpace: string;
}

/** A name for a sheet of ours that no sheet of the workbook has. Joins `taken`, in lower case. */
export function freeGraftName(name: string, taken: Set<string>): string {
  let free = name;
  for (let nth = 1; taken.has(free.toLowerCase()); nth += 1) free = nameBeside(name, nth);
  taken.add(free.toLowerCase());
  return free;
}

function addPart(
  { edit, workbookPart }: GraftPlace,
  xml: string,
): { part: string; linkId: string } {
  const part = edit.freeName('xl/worksheets/sheet', '.xml');
  edit.put(part, xml);
  edit.addType(part, SHEET_TYPE);
  return { part, linkId: edit.addLink(workbookPart, 'worksheet', part) };
}

/** Adds the sheets with their notes, print titles and the hidden names they are known by. */
export function graftSheets(grafts: readonly Graft[], place: GraftPlace): void {
  const { edit, workbookPart, styles, mainSpace, linkSpace } = place;
  const sheets: NewSheet[] = [];
  const names: NewName[] = [];
  for (const { name, draft } of grafts) {
    const { part, linkId } = addPart(place, sheetXml(draft, styles, mainSpace));
    const { drawingLink } = writeNotes(edit, part, undefined, draft.notes, {
      dropped: new Set(),
      widths: draft.widths,
      mainSpace,
    });
    if (drawingLink !== null) {
      // The last child of a sheet of ours.
      const link = `<legacyDrawing xmlns:r="${linkSpace}" r:id="${drawingLink}"/>`;
      edit.put(part, (edit.text(part) ?? '').replace(/<\/worksheet>$/, `${link}</worksheet>`));
    }
    sheets.push({ name, linkId, hidden: false });
    names.push(markName(name));
    if (draft.titleRow !== null) {
      const refersTo = titleRows(name, draft.titleRow);
      names.push({ name: '_xlnm.Print_Titles', sheet: name, refersTo, hidden: false });
    }
  }
  addSheets(edit, workbookPart, sheets);
  addNames(edit, workbookPart, names);
}

function markName(sheet: string): NewName {
  const name = markOfSheet(ownSheetOf(sheet) ?? sheet);
  return { name, sheet: null, refersTo: `${quotedSheet(sheet)}!$A$1`, hidden: true };
}

/**
 * Adds the hidden sheet of looks: samples of what marked cells look like and looked like before, so
 * that a later export can take the marks off, whatever a program has renumbered on the way.
 */
export function graftLooks(
  name: string,
  looks: ReadonlyMap<number, number>,
  place: GraftPlace,
): void {
  const { edit, workbookPart, mainSpace } = place;
  const words =
    'Looks of marked cells and, beside each, the look before: Runledger takes its marks off by them.';
  const rows = [...looks].map(([marked, before], i) => {
    const row = i + 2;
    const cells = cellXml('', row, 0, marked, 'marked') + cellXml('', row, 1, before, 'before');
    return `<row r="${row}">${cells}</row>`;
  });
  const xml = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<worksheet xmlns="${mainSpace}"><sheetData><row r="1">${cellXml('', 1, 0, 0, words)}</row>${rows.join('')}</sheetData></worksheet>`;
  const { linkId } = addPart(place, xml);
  addSheets(edit, workbookPart, [{ name, linkId, hidden: true }]);
  addNames(edit, workbookPart, [{ ...markName(name), name: markOfSheet(LOOKS_SHEET) }]);
}
