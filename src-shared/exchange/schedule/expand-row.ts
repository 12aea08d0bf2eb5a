/** A row that stands for several fixtures: a quantity, a range of tags. */
import type { Confidence } from '../../document/project.ts';
import { cellAt, columnAmong, type RowDraft } from './row-draft.ts';
import { generatedTags, MOST_FIXTURES_A_ROW, tagsOfList, tagsOfRange } from './tag-range.ts';
import { placeOf, tellRow } from './tell-row.ts';

/** One fixture of a row. */
export interface FixtureDraft {
  readonly row: RowDraft;
  readonly tag: string | null;
  readonly place: number | null;
  /** Its number within the row: 0 for the first. */
  readonly nth: number;
  /** Fixtures made of the row. */
  readonly of: number;
}

export class RowExpander {
  private readonly tags = new Set<string>();

  /** `written`: tags written anywhere in the schedule; none is made twice. */
  constructor(written: Iterable<string>) {
    for (const tag of written) this.tags.add(tag.toLowerCase());
  }

  /** The fixtures of a row, at least one. */
  expand(row: RowDraft): FixtureDraft[] {
    const quantity = row.number.quantity ?? null;
    const written = row.text.tag ?? null;
    const range = written === null ? null : (tagsOfRange(written, quantity) ?? tagsOfList(written));
    if (quantity !== null && quantity > MOST_FIXTURES_A_ROW) {
      const note = `more than ${MOST_FIXTURES_A_ROW} fixtures in one row: read as one`;
      this.tellQuantity(row, 1, 'refused', note);
      return this.single(row);
    }
    if (range !== null && written !== null && (quantity === null || quantity === range.length)) {
      const note = `${range.length} fixtures, ${range[0]} to ${range.at(-1)}`;
      const confidence = quantity === null ? 'likely' : 'sure';
      tellRow(row, 'tag', { value: written, confidence, note });
      if (quantity === null) this.tellMissingQuantity(row, range.length);
      else this.tellQuantity(row, quantity, 'sure', `${quantity} fixtures, as the range of tags`);
      return this.several(row, range);
    }
    if (quantity === null || quantity <= 1) {
      const note = `the tags are ${range?.length}, the quantity is ${quantity}: read as one fixture`;
      if (range !== null) this.tellQuantity(row, 1, 'guess', note);
      return this.single(row);
    }
    const base = written ?? row.text.type ?? row.text.run ?? 'fixture';
    const tags = generatedTags(base, quantity, this.tags);
    for (const tag of tags) this.tags.add(tag.toLowerCase());
    const made = `${quantity} fixtures; tags made: ${tags[0]} to ${tags.at(-1)}`;
    const note =
      range === null ? made : `the tags are ${range.length}, the quantity is ${quantity}: ${made}`;
    this.tellQuantity(row, quantity, range === null ? 'likely' : 'guess', note);
    return this.several(row, tags);
  }

  private single(row: RowDraft): FixtureDraft[] {
    return [{ row, tag: row.text.tag ?? null, place: row.number.place ?? null, nth: 0, of: 1 }];
  }

  private several(row: RowDraft, tags: readonly string[]): FixtureDraft[] {
    const first = row.number.place ?? null;
    return tags.map((tag, nth) => ({
      row,
      tag,
      place: first === null ? null : first + nth,
      nth,
      of: tags.length,
    }));
  }

  private tellQuantity(row: RowDraft, value: number, confidence: Confidence, note: string): void {
    tellRow(row, 'quantity', { value, confidence, note }, ['tag', 'type']);
  }

  /** A blank quantity beside a range of tags: the range gives it. */
  private tellMissingQuantity(row: RowDraft, count: number): void {
    const column = columnAmong(row, ['quantity']);
    if (column === null || row.unread.has('quantity')) return;
    const note = `no quantity: the range of tags gives ${count}`;
    const raw = cellAt(row, column)?.text ?? '';
    row.part.log.add(placeOf(row, column), raw, 'quantity', count, 'likely', note);
  }
}
