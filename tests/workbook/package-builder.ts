import { strToU8, zipSync } from 'fflate';

/** Hand-written XML of a package for tests; the structure follows ECMA-376 parts 1 and 2. */
export interface PackageText {
  /** Inside of `sheetData` of the one sheet. */
  readonly rows?: string;
  /** After `sheetData`. */
  readonly after?: string;
  /** Inside of `workbook`, before `sheets`. */
  readonly settings?: string;
  /** Shared string items; no such part without. */
  readonly strings?: string;
  /** Inside of `styleSheet`. */
  readonly styles?: string;
  /** Parts to add or replace; undefined takes a part out. */
  readonly parts?: Readonly<Record<string, string | Uint8Array | undefined>>;
}

const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const DOC = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGE = 'http://schemas.openxmlformats.org/package/2006';

/** `Relationships` XML from id → [type word or full type, target, more attributes]. */
export function relationships(links: Record<string, readonly [string, string, string?]>): string {
  const items = Object.entries(links).map(([id, [type, target, more = '']]) => {
    const full = type.includes(':') ? type : `${DOC}/${type}`;
    return `<Relationship Id="${id}" Type="${full}" Target="${target}" ${more}/>`;
  });
  return `<Relationships xmlns="${PACKAGE}/relationships">${items.join('')}</Relationships>`;
}

/** A worksheet part around its rows. */
export function sheetXml(rows: string, after = ''): string {
  return `<worksheet xmlns="${MAIN}" xmlns:r="${DOC}"><sheetData>${rows}</sheetData>${after}</worksheet>`;
}

/** A workbook part with one sheet `Plan`. */
export function workbookXml(settings = ''): string {
  return `<workbook xmlns="${MAIN}" xmlns:r="${DOC}">${settings}<sheets><sheet name="Plan" sheetId="1" r:id="rId1"/></sheets></workbook>`;
}

/** The parts of a small package by name. */
export function packageParts(text: PackageText): Map<string, Uint8Array> {
  const all: Record<string, string | Uint8Array | undefined> = {
    '[Content_Types].xml': `<Types xmlns="${PACKAGE}/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>`,
    '_rels/.rels': relationships({ rId1: ['officeDocument', 'xl/workbook.xml'] }),
    'xl/workbook.xml': workbookXml(text.settings),
    'xl/_rels/workbook.xml.rels': relationships({
      rId1: ['worksheet', 'worksheets/sheet1.xml'],
      ...(text.strings === undefined ? {} : { rId2: ['sharedStrings', 'sharedStrings.xml'] }),
      ...(text.styles === undefined ? {} : { rId3: ['styles', 'styles.xml'] }),
    }),
    'xl/worksheets/sheet1.xml': sheetXml(text.rows ?? '', text.after),
    'xl/sharedStrings.xml':
      text.strings === undefined ? undefined : `<sst xmlns="${MAIN}">${text.strings}</sst>`,
    'xl/styles.xml':
      text.styles === undefined
        ? undefined
        : `<styleSheet xmlns="${MAIN}">${text.styles}</styleSheet>`,
    ...text.parts,
  };
  const parts = new Map<string, Uint8Array>();
  for (const [name, content] of Object.entries(all)) {
    if (content === undefined) continue;
    parts.set(name, typeof content === 'string' ? strToU8(content) : content);
  }
  return parts;
}

/** A package as zip bytes; level 0 stores the parts unpacked. */
export function packageBytes(text: PackageText = {}, level: 0 | 6 = 6): Uint8Array {
  return zipSync(Object.fromEntries(packageParts(text)), { level });
}
