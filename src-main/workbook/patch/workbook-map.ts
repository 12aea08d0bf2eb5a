/** The workbook part: its sheets and names, and where they stand in its text. */
import type { PackageEdit } from './package-edit.ts';
import { attributeOf, localName, type OpenTag, prefixOf, scanXml } from './xml-scan.ts';

/** Namespace of the strict form of the format (ISO/IEC 29500 part 1, annex A). */
const STRICT = 'http://purl.oclc.org/ooxml/spreadsheetml/main';

export interface Span {
  readonly start: number;
  readonly end: number;
}

export interface SheetEntry extends Span {
  readonly name: string;
  readonly sheetId: number;
  readonly linkId: string;
  readonly state: string | null;
}

export interface NameEntry extends Span {
  readonly name: string;
  readonly hidden: boolean;
  /** Place in the list of sheets; null: of the whole workbook. */
  readonly localSheet: number | null;
  readonly refersTo: string;
  /** Place of `refersTo` in the text. */
  readonly content: Span;
}

export interface WorkbookMap {
  readonly part: string;
  readonly text: string;
  /** `x:` where the elements have one. */
  readonly prefix: string;
  readonly strict: boolean;
  readonly mainSpace: string;
  readonly linkSpace: string;
  readonly sheets: readonly SheetEntry[];
  readonly names: readonly NameEntry[];
  /** Children of the root in order. */
  readonly sections: readonly (Span & {
    readonly name: string;
    readonly tagEnd: number;
    readonly isEmpty: boolean;
  })[];
  readonly rootEnd: number;
}

function spaceOf(root: OpenTag): string {
  const prefix = prefixOf(root.name);
  const key = prefix === '' ? 'xmlns' : `xmlns:${prefix.slice(0, -1)}`;
  return root.attributes[key] ?? '';
}

/** Reads the workbook part as it is now. */
export function mapWorkbook(edit: PackageEdit, part: string): WorkbookMap {
  const text = edit.text(part) ?? '';
  const sheets: SheetEntry[] = [];
  const names: NameEntry[] = [];
  const sections: { name: string; start: number; end: number; tagEnd: number; isEmpty: boolean }[] =
    [];
  let root: OpenTag | undefined;
  let rootEnd = text.length;
  let open: OpenTag | undefined;
  let name: { tag: OpenTag; content: string } | undefined;
  let section: OpenTag | undefined;
  const path: string[] = [];
  scanXml(text, edit.where(part), {
    open(tag) {
      path.push(localName(tag.name));
      if (tag.depth === 1) root = tag;
      if (tag.depth === 2) section = tag;
      if (tag.depth !== 3) return;
      if (path[1] === 'sheets' && path[2] === 'sheet') open = tag;
      if (path[1] === 'definedNames' && path[2] === 'definedName') name = { tag, content: '' };
    },
    text(piece) {
      if (name !== undefined) name.content += piece;
    },
    close(_, start, end, depth) {
      path.pop();
      if (depth === 1) rootEnd = start;
      if (depth === 2 && section !== undefined) {
        const { name: whole, start: from, end: tagEnd, isEmpty } = section;
        sections.push({ name: localName(whole), start: from, end, tagEnd, isEmpty });
      }
      if (depth !== 3) return;
      if (open !== undefined) {
        sheets.push({
          name: attributeOf(open, 'name') ?? '',
          sheetId: Number(attributeOf(open, 'sheetId') ?? 0),
          linkId: attributeOf(open, 'id') ?? '',
          state: attributeOf(open, 'state') ?? null,
          start: open.start,
          end,
        });
        open = undefined;
      }
      if (name !== undefined) {
        const local = attributeOf(name.tag, 'localSheetId');
        names.push({
          name: attributeOf(name.tag, 'name') ?? '',
          hidden: /^(1|true|on)$/i.test(attributeOf(name.tag, 'hidden') ?? ''),
          localSheet: local === undefined ? null : Number(local),
          refersTo: name.content.trim(),
          content: { start: name.tag.end, end: start },
          start: name.tag.start,
          end,
        });
        name = undefined;
      }
    },
  });
  const mainSpace = root === undefined ? '' : spaceOf(root);
  const strict = mainSpace === STRICT;
  return {
    part,
    text,
    prefix: prefixOf(root?.name ?? ''),
    strict,
    mainSpace,
    linkSpace: strict
      ? 'http://purl.oclc.org/ooxml/officeDocument/relationships'
      : 'http://schemas.openxmlformats.org/officeDocument/2006/relationships',
    sheets,
    names,
    sections,
    rootEnd,
  };
}

/** Order of the workbook's children (ECMA-376 part 1, 18.2.27, CT_Workbook). */
const sectionOrder = [
  'fileVersion', 'fileSharing', 'workbookPr', 'AlternateContent', 'revisionPtr', 'absPath',
  'workbookProtection', 'bookViews', 'sheets', 'functionGroups', 'externalReferences',
  'definedNames', 'calcPr', 'oleSize', 'customWorkbookViews', 'pivotCaches',
]; // biome-ignore format: a list

/** Where a child of the root that is not there yet belongs. */
export function sectionPlace({ sections, rootEnd }: WorkbookMap, name: string): number {
  const rank = sectionOrder.indexOf(name);
  const after = sections.filter((s) => {
    const place = sectionOrder.indexOf(s.name);
    return place >= 0 && place <= rank;
  });
  return after.at(-1)?.end ?? sections[0]?.start ?? rootEnd;
}
