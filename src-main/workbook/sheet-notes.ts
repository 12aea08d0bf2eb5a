import { parseAddress } from './cell-address.ts';
import type { PackageParts } from './package-parts.ts';
import type { Relationship } from './relationships.ts';
import { RichTextCollector } from './rich-text.ts';
import { plural } from './sheet-context.ts';
import type { OpenRow } from './sheet-rows.ts';
import { attributeOf, walkXml } from './xml-walk.ts';

/** Text of notes by row (from 1), then by zero-based column. */
type NotesByRow = Map<number, Map<number, string>>;

function put(notes: NotesByRow, reference: string, text: string, joining: boolean): void {
  const at = parseAddress(reference);
  const tidy = text.trim();
  if (!at || tidy === '') return;
  const row = notes.get(at.row) ?? new Map<number, string>();
  notes.set(at.row, row);
  const before = joining ? row.get(at.column) : undefined;
  row.set(at.column, before === undefined ? tidy : `${before}\n${tidy}`);
}

function readLegacy(parts: PackageParts, name: string, notes: NotesByRow): void {
  const bytes = parts.read(name);
  if (!bytes) return;
  const collector = new RichTextCollector();
  let reference: string | undefined;
  walkXml(bytes, parts.where(name), {
    open(element, attributes) {
      if (element === 'comment') reference = attributeOf(attributes, 'ref') ?? '';
      else if (reference !== undefined) collector.open(element, attributes);
    },
    text(text) {
      if (reference !== undefined) collector.text(text);
    },
    close(element) {
      if (element === 'comment') {
        put(notes, reference ?? '', collector.take().text, false);
        reference = undefined;
      } else if (reference !== undefined) collector.close(element);
    },
  });
}

/** Threads replace the stand-in note that writers keep for programs without threads. */
function readThreaded(parts: PackageParts, name: string, notes: NotesByRow): void {
  const bytes = parts.read(name);
  if (!bytes) return;
  const threads: NotesByRow = new Map();
  let reference = '';
  let text: string | undefined;
  walkXml(bytes, parts.where(name), {
    open(element, attributes) {
      if (element === 'threadedComment') reference = attributeOf(attributes, 'ref') ?? '';
      else if (element === 'text') text = '';
    },
    text(piece) {
      if (text !== undefined) text += piece;
    },
    close(element) {
      if (element !== 'text' || text === undefined) return;
      put(threads, reference, text, true);
      text = undefined;
    },
  });
  for (const [row, byColumn] of threads) {
    const known = notes.get(row) ?? new Map<number, string>();
    for (const [column, thread] of byColumn) known.set(column, thread);
    notes.set(row, known);
  }
}

/**
 * Puts the notes and comment threads of a sheet on its cells. A note on an empty cell gives the
 * cell an empty text when its row has others; notes on empty rows are only counted in a remark.
 * @param rows changed in place
 * @throws RefusalError from reading the parts
 */
export function attachNotes(
  parts: PackageParts,
  links: ReadonlyMap<string, Relationship>,
  sheet: string,
  rows: readonly OpenRow[],
  remarks: string[],
): void {
  const notes: NotesByRow = new Map();
  const linked = [...links.values()].filter((link) => !link.external);
  for (const link of linked) if (link.kind === 'comments') readLegacy(parts, link.target, notes);
  for (const link of linked) {
    if (link.kind === 'threadedComment') readThreaded(parts, link.target, notes);
  }
  if (notes.size === 0) return;
  for (const row of rows) {
    const byColumn = notes.get(row.number);
    if (!byColumn) continue;
    notes.delete(row.number);
    const known = new Map(row.cells.map((cell) => [cell.column, cell]));
    for (const [column, note] of byColumn) {
      const cell = known.get(column);
      if (cell) cell.note = note;
      else row.cells.push({ column, text: '', value: '', kind: 'text', note });
    }
    row.cells.sort((a, b) => a.column - b.column);
  }
  let left = 0;
  for (const byColumn of notes.values()) left += byColumn.size;
  if (left > 0) {
    const be = left === 1 ? 'stands' : 'stand';
    remarks.push(
      `Sheet ${sheet}: ${plural(left, 'note')} ${be} on empty rows and ${left === 1 ? 'was' : 'were'} not read.`,
    );
  }
}
