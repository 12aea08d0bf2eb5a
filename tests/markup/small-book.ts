/** Small workbooks of hand-written XML (structure: ECMA-376 part 1) for what the large ones do not have. */
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { applyCommand } from '../../src-shared/document/apply.ts';
import type { Command } from '../../src-shared/document/change.ts';
import { type CellValue, editCell } from '../../src-shared/document/edit-cell.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { columnLetters } from '../../src-shared/document/source-workbook.ts';
import { type PackageText, packageBytes } from '../workbook/package-builder.ts';
import { markedUp, projectOf } from './jobs.ts';
import { childrenNamed, elementsOf, localOf, treeOf, under, type XmlNode } from './xml-tree.ts';
import { contentsOf } from './zip-reading.ts';

/** A number, a text, or XML of what stands inside the cell, with attributes. */
export type SmallCell =
  | number
  | string
  | null
  | { readonly xml: string; readonly attributes?: string };

const escaped = (text: string) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');

function cellXml(cell: SmallCell, reference: string): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return `<c r="${reference}"><v>${cell}</v></c>`;
  if (typeof cell === 'string') {
    return `<c r="${reference}" t="inlineStr"><is><t xml:space="preserve">${escaped(cell)}</t></is></c>`;
  }
  return `<c r="${reference}" ${cell.attributes ?? ''}>${cell.xml}</c>`;
}

/** Rows of a sheet from row `first` on. */
export function rowsXml(rows: readonly (readonly SmallCell[])[], first = 1): string {
  return rows
    .map((cells, r) => {
      const number = first + r;
      const inner = cells.map((cell, c) => cellXml(cell, `${columnLetters(c)}${number}`));
      return `<row r="${number}">${inner.join('')}</row>`;
    })
    .join('');
}

export const header = ['Tag', 'Type', 'Run', 'Place', 'Span m', 'Load W', 'Universe', 'Start'];

/** Six fixtures of one run. */
export const sixRows: readonly (readonly SmallCell[])[] = [1, 2, 3, 4, 5, 6].map((n) => [
  `A-0${n}`, 'T1', 'R1', n, 2.5, 40, 1, 1 + 9 * (n - 1),
]); // biome-ignore format: one row

export function smallBook(
  rows: readonly (readonly SmallCell[])[] = [header, ...sixRows],
  more: PackageText = {},
): Uint8Array {
  return packageBytes({ rows: rowsXml(rows), ...more });
}

export interface Small {
  readonly bytes: Uint8Array;
  readonly before: Project;
}

export function readSmall(bytes: Uint8Array): Small {
  return { bytes, before: projectOf(bytes, 'plan.xlsx') };
}

export function done(project: Project, command: Command): Project {
  const applied = applyCommand(project, command);
  if (!applied.ok) throw new Error(applied.reason);
  return applied.project;
}

export function edited(project: Project, tag: string, column: ColumnId, value: CellValue): Project {
  const id = project.fixtures.find((fixture) => fixture.tag === tag)?.id ?? '';
  const edit = editCell(project, id, column, value);
  if (!edit.ok) throw new Error(edit.reason);
  return done(project, edit.command);
}

/** What the first sheet of a marked-up workbook holds. */
export interface MarkedSheet {
  readonly sheet: XmlNode;
  readonly cells: ReadonlyMap<string, XmlNode>;
  readonly parts: ReadonlyMap<string, string>;
  readonly remarks: readonly string[];
  readonly bytes: Uint8Array;
}

export async function markSmall(bytes: Uint8Array, project: Project): Promise<MarkedSheet> {
  const marked = await markedUp(bytes, 'plan.xlsx', project);
  const parts = contentsOf(marked.bytes);
  const sheet = treeOf(parts.get('xl/worksheets/sheet1.xml') ?? '');
  const cells = new Map<string, XmlNode>();
  for (const row of childrenNamed(under(sheet, 'sheetData') ?? sheet, 'row')) {
    for (const cell of elementsOf(row)) cells.set(cell.attributes.r ?? '', cell);
  }
  return { sheet, cells, parts, remarks: marked.remarks, bytes: marked.bytes };
}

/** Text or number of a cell as it stands in the part; undefined for an empty one. */
export function valueAt(
  { cells }: Pick<MarkedSheet, 'cells'>,
  reference: string,
): string | undefined {
  const cell = cells.get(reference);
  if (cell === undefined) return undefined;
  const text = (node: XmlNode | undefined): string | undefined => {
    const [first] = node?.children ?? [];
    return typeof first === 'string' ? first : undefined;
  };
  return text(under(cell, 'v')) ?? text(under(cell, 'is', 't'));
}

export function formulaAt(
  { cells }: Pick<MarkedSheet, 'cells'>,
  reference: string,
): XmlNode | undefined {
  const cell = cells.get(reference);
  return cell === undefined ? undefined : under(cell, 'f');
}

/** Notes of the sheet by cell. */
export function notesOf(
  { parts }: Pick<MarkedSheet, 'parts'>,
  part = 'xl/comments1.xml',
): Map<string, string> {
  const text = parts.get(part);
  const notes = new Map<string, string>();
  if (text === undefined) return notes;
  const allText = (node: XmlNode): string =>
    node.children.map((child) => (typeof child === 'string' ? child : allText(child))).join('');
  for (const note of elementsOf(under(treeOf(text), 'commentList') ?? treeOf(text))) {
    if (localOf(note) === 'comment') notes.set(note.attributes.ref ?? '', allText(note));
  }
  return notes;
}
