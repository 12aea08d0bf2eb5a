/** Changes of the workbook part: sheets and names added and taken away. */

import type { PackageEdit } from './package-edit.ts';
import { quotedSheet } from './references.ts';
import { mapWorkbook, sectionPlace } from './workbook-map.ts';
import { localName, scanXml } from './xml-scan.ts';
import { attributeText, elementText, type Splice, splice, withAttribute } from './xml-write.ts';

/** A name to be defined; `sheet` null: for the whole workbook. */
export interface NewName {
  readonly name: string;
  readonly sheet: string | null;
  readonly refersTo: string;
  readonly hidden: boolean;
}

/** Takes sheets out of the list, with every name that is theirs or `isOurs`. */
export function removeSheets(
  edit: PackageEdit,
  part: string,
  gone: ReadonlySet<string>,
  isOurs: (name: string) => boolean,
): void {
  const map = mapWorkbook(edit, part);
  const places = new Map<number, number>();
  let kept = 0;
  map.sheets.forEach(({ name }, place) => {
    if (gone.has(name)) return;
    places.set(place, kept);
    kept += 1;
  });
  const splices: Splice[] = map.sheets
    .filter(({ name }) => gone.has(name))
    .map(({ start, end }) => ({ start, end, text: '' }));
  const left = map.names.filter(
    (name) => !isOurs(name.name) && (name.localSheet === null || places.has(name.localSheet)),
  );
  const names = map.sections.find((section) => section.name === 'definedNames');
  if (names !== undefined && left.length === 0) {
    splices.push({ start: names.start, end: names.end, text: '' });
  } else {
    for (const name of map.names) {
      if (!left.includes(name)) splices.push({ start: name.start, end: name.end, text: '' });
      else if (name.localSheet !== null && places.get(name.localSheet) !== name.localSheet) {
        const { start, content } = name;
        const tag = map.text.slice(start, content.start);
        const moved = withAttribute(tag, 'localSheetId', String(places.get(name.localSheet)));
        splices.push({ start, end: content.start, text: moved });
      }
    }
  }
  edit.put(part, splice(map.text, splices));
  moveViews(edit, part, places);
}

/** The sheet in view keeps being in view; one that is gone gives way to the first. */
function moveViews(edit: PackageEdit, part: string, places: ReadonlyMap<number, number>): void {
  const text = edit.text(part) ?? '';
  const splices: Splice[] = [];
  scanXml(text, edit.where(part), {
    open(tag) {
      if (localName(tag.name) !== 'workbookView') return;
      let written = text.slice(tag.start, tag.end);
      for (const name of ['activeTab', 'firstSheet']) {
        const was = tag.attributes[name];
        if (was !== undefined) {
          written = withAttribute(written, name, String(places.get(Number(was)) ?? 0));
        }
      }
      splices.push({ start: tag.start, end: tag.end, text: written });
    },
  });
  edit.put(part, splice(text, splices));
}

/** A sheet to be listed behind the others. */
export interface NewSheet {
  readonly name: string;
  readonly linkId: string;
  readonly hidden: boolean;
}

/** Lists new sheets behind the others. */
export function addSheets(edit: PackageEdit, part: string, sheets: readonly NewSheet[]): void {
  const map = mapWorkbook(edit, part);
  const last = map.sheets.at(-1);
  if (last === undefined) return;
  let id = Math.max(...map.sheets.map((sheet) => sheet.sheetId));
  const written = sheets.map(({ name, linkId, hidden }) => {
    id += 1;
    const state = hidden ? ' state="hidden"' : '';
    return `<${map.prefix}sheet name="${attributeText(name)}" sheetId="${id}"${state} xmlns:r="${map.linkSpace}" r:id="${linkId}"/>`;
  });
  edit.put(part, splice(map.text, [{ start: last.end, end: last.end, text: written.join('') }]));
}

/** Sets what a name of a sheet refers to; it must be there. */
export function changeName(
  edit: PackageEdit,
  part: string,
  name: string,
  localSheet: number,
  refersTo: string,
): void {
  const map = mapWorkbook(edit, part);
  const found = map.names.find((n) => n.name === name && n.localSheet === localSheet);
  if (found === undefined) return;
  const text = elementText(refersTo);
  edit.put(part, splice(map.text, [{ ...found.content, text }]));
}

/** Adds names behind those there are. */
export function addNames(edit: PackageEdit, part: string, names: readonly NewName[]): void {
  if (names.length === 0) return;
  const map = mapWorkbook(edit, part);
  const { prefix } = map;
  const places = new Map(map.sheets.map((sheet, place) => [sheet.name, place]));
  const written = names.map(({ name, sheet, refersTo, hidden }) => {
    const local = sheet === null ? '' : ` localSheetId="${places.get(sheet) ?? 0}"`;
    const hide = hidden ? ' hidden="1"' : '';
    return `<${prefix}definedName name="${attributeText(name)}"${local}${hide}>${elementText(refersTo)}</${prefix}definedName>`;
  });
  const section = map.sections.find((one) => one.name === 'definedNames');
  if (section === undefined) {
    const at = sectionPlace(map, 'definedNames');
    const text = `<${prefix}definedNames>${written.join('')}</${prefix}definedNames>`;
    edit.put(part, splice(map.text, [{ start: at, end: at, text }]));
  } else if (section.isEmpty) {
    const text = `<${prefix}definedNames>${written.join('')}</${prefix}definedNames>`;
    edit.put(part, splice(map.text, [{ ...section, text }]));
  } else {
    const at = map.text.lastIndexOf('<', section.end - 1);
    edit.put(part, splice(map.text, [{ start: at, end: at, text: written.join('') }]));
  }
}

/** Asks for one full calculation on opening: results that depended on a changed cell are not kept. */
export function askForCalculation(edit: PackageEdit, part: string): void {
  const map = mapWorkbook(edit, part);
  const section = map.sections.find((one) => one.name === 'calcPr');
  if (section === undefined) {
    const at = sectionPlace(map, 'calcPr');
    const text = `<${map.prefix}calcPr fullCalcOnLoad="1"/>`;
    edit.put(part, splice(map.text, [{ start: at, end: at, text }]));
    return;
  }
  const tag = map.text.slice(section.start, section.tagEnd);
  const asking = withAttribute(tag, 'fullCalcOnLoad', '1');
  edit.put(part, splice(map.text, [{ start: section.start, end: section.tagEnd, text: asking }]));
}

/** `Schedule!$A$1:$B$2` with the sheet quoted where it must be. */
export function absoluteArea(sheet: string, area: string): string {
  const dollars = area.replace(/([A-Z]+)(\d+)/g, '$$$1$$$2');
  return `${quotedSheet(sheet)}!${dollars}`;
}
