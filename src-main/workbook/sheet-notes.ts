import { parseAddress } from './cell-address.ts';
import type { PackageParts } from './package-parts.ts';
import { PART_ROOTS } from './part-roots.ts';
import type { Relationship } from './relationships.ts';
import { RichTextCollector } from './rich-text.ts';
import { plural, type SheetContext } from './sheet-context.ts';
import type { OpenRow } from './sheet-rows.ts';
import { attributeOf, walkXml, type XmlHandler } from './xml-walk.ts';

/** Notes of a sheet while they are gathered; the text of notes counts like that of cells. */
class SheetNotes {
  /** Text by row (from 1), then by zero-based column. */
  readonly byRow = new Map<number, Map<number, string>>();
  /** Notes at a place no sheet has. */
  lost = 0;
  readonly #count: (text: string) => void;

  constructor(count: (text: string) => void) {
    this.#count = count;
  }

  put(reference: string, text: string, joining: boolean): void {
    const tidy = text.trim();
    if (tidy === '') return;
    this.#count(tidy);
    const at = parseAddress(reference);
    if (!at) {
      this.lost++;
      return;
    }
    const row = this.byRow.get(at.row) ?? new Map<number, string>();
    this.byRow.set(at.row, row);
    const before = joining ? row.get(at.column) : undefined;
    row.set(at.column, before === undefined ? tidy : `${before}\n${tidy}`);
  }

  /** Threads replace the stand-in notes that writers keep for programs without threads. */
  replaceBy(threads: SheetNotes): void {
    this.lost += threads.lost;
    for (const [row, byColumn] of threads.byRow) {
      const known = this.byRow.get(row) ?? new Map<number, string>();
      for (const [column, thread] of byColumn) known.set(column, thread);
      this.byRow.set(row, known);
    }
  }
}

/** The stand-in for a thread whose own part was lost on the way: what follows its "Comment:". */
function withoutStandIn(text: string): string {
  if (!text.startsWith('[Threaded comment]')) return text;
  const said = /\n\s*Comment:\s*\n([\s\S]*)$/.exec(text)?.[1];
  if (said === undefined) return text;
  const lines = said.split('\n').map((line) => line.trim());
  return lines.filter((line) => line !== '' && line !== 'Reply:').join('\n');
}

function legacyHandler(notes: SheetNotes): XmlHandler {
  const collector = new RichTextCollector();
  let reference: string | undefined;
  return {
    open(element, attributes) {
      if (element === 'comment') reference = attributeOf(attributes, 'ref') ?? '';
      else if (reference !== undefined) collector.open(element, attributes);
    },
    text(text) {
      if (reference !== undefined) collector.text(text);
    },
    close(element) {
      if (element === 'comment') {
        notes.put(reference ?? '', withoutStandIn(collector.take().text), false);
        reference = undefined;
      } else if (reference !== undefined) collector.close(element);
    },
  };
}

/** Comments of a thread in file order; who wrote them is not read. */
function threadHandler(threads: SheetNotes): XmlHandler {
  let reference = '';
  let text: string | undefined;
  return {
    open(element, attributes) {
      if (element === 'threadedComment') reference = attributeOf(attributes, 'ref') ?? '';
      else if (element === 'text') text = '';
    },
    text(piece) {
      if (text !== undefined) text += piece;
    },
    close(element) {
      if (element !== 'text' || text === undefined) return;
      threads.put(reference, text, true);
      text = undefined;
    },
  };
}

/** Puts notes on the cells of their rows, and takes those rows' notes out of `notes`. */
function putOnCells(notes: SheetNotes, rows: readonly OpenRow[]): void {
  for (const row of rows) {
    const byColumn = notes.byRow.get(row.number);
    if (!byColumn) continue;
    notes.byRow.delete(row.number);
    const known = new Map(row.cells.map((cell) => [cell.column, cell]));
    for (const [column, note] of byColumn) {
      const cell = known.get(column);
      if (cell) cell.note = note;
      else row.cells.push({ column, text: '', value: '', kind: 'text', note });
    }
    row.cells.sort((a, b) => a.column - b.column);
  }
}

function readNotes(
  parts: PackageParts,
  links: ReadonlyMap<string, Relationship>,
  notes: SheetNotes,
  threads: SheetNotes,
): string[] {
  const missing: string[] = [];
  for (const link of links.values()) {
    const isThread = link.kind === 'threadedComment';
    if ((link.kind !== 'comments' && !isThread) || link.outside) continue;
    const bytes = parts.read(link.target);
    const where = parts.where(link.target);
    if (!bytes) missing.push(link.target);
    else if (isThread) walkXml(bytes, where, threadHandler(threads), PART_ROOTS.threads);
    else walkXml(bytes, where, legacyHandler(notes), PART_ROOTS.notes);
  }
  notes.replaceBy(threads);
  return missing;
}

/**
 * Puts the notes and comment threads of a sheet on its cells. A note on an empty cell gives the
 * cell an empty text when its row has others; notes on empty rows are only counted in a remark.
 * @param rows changed in place
 * @throws RefusalError from reading the parts
 */
export function attachNotes(
  context: SheetContext,
  links: ReadonlyMap<string, Relationship>,
  sheet: string,
  rows: readonly OpenRow[],
): void {
  const { parts, budget, remarks } = context;
  const count = (text: string) => {
    budget.addNote(sheet);
    budget.addText(text, sheet);
  };
  const notes = new SheetNotes(count);
  const missing = readNotes(parts, links, notes, new SheetNotes(count));
  putOnCells(notes, rows);
  const tell = (number: number, where: string) => {
    if (number === 0) return;
    const [stands, was] = number === 1 ? ['stands', 'was'] : ['stand', 'were'];
    remarks.push(
      `Sheet ${sheet}: ${plural(number, 'note')} ${stands} ${where} and ${was} not read.`,
    );
  };
  let left = 0;
  for (const byColumn of notes.byRow.values()) left += byColumn.size;
  tell(left, 'on empty rows');
  tell(notes.lost, 'at a place no sheet has');
  for (const name of missing) {
    remarks.push(`Sheet ${sheet}: its notes (${name}) are not in the file and were not read.`);
  }
}
