/** A row that stands for several fixtures: a quantity, a range of tags. */
import type { ColumnPlan } from './plan-columns.ts';
import type { ReadingLog } from './reading-log.ts';
import type { RowDraft } from './row-draft.ts';
import { generatedTags, MOST_FIXTURES_A_ROW, tagsOfRange } from './tag-range.ts';

/** One fixture of a row. */
export interface FixtureDraft {
  readonly row: RowDraft;
  readonly tag: string | null;
  readonly place: number | null;
  /** Its number within the row: 0 for the first. */
  readonly nth: number;
}

export class RowExpander {
  private readonly tags = new Set<string>();

  constructor(
    private readonly plan: ColumnPlan,
    private readonly sheet: string,
    private readonly log: ReadingLog,
    /** Tags written anywhere in the sheet: none is made twice. */
    written: Iterable<string>,
  ) {
    for (const tag of written) this.tags.add(tag);
  }

  /** The fixtures of a row, at least one. */
  expand(row: RowDraft): FixtureDraft[] {
    const quantity = row.number.quantity ?? null;
    const written = row.text.tag ?? null;
    const range = written === null ? null : tagsOfRange(written, quantity);
    if (quantity !== null && quantity > MOST_FIXTURES_A_ROW) {
      const note = `more than ${MOST_FIXTURES_A_ROW} fixtures in one row: read as one`;
      this.tell(row, 'quantity', String(quantity), 1, 'refused', note);
      return this.single(row);
    }
    if (range !== null && written !== null && (quantity === null || quantity === range.length)) {
      const note = `${range.length} fixtures, ${range[0]} to ${range.at(-1)}`;
      this.tell(row, 'tag', written, written, quantity === null ? 'likely' : 'sure', note);
      return this.several(row, range);
    }
    if (quantity === null || quantity <= 1) return this.single(row);
    const base = written ?? row.text.type ?? row.text.run ?? 'fixture';
    const tags = generatedTags(base, quantity, this.tags);
    for (const tag of tags) this.tags.add(tag);
    const made = `${quantity} fixtures; tags made: ${tags[0]} to ${tags.at(-1)}`;
    const note =
      range === null ? made : `the tags are ${range.length}, the quantity is ${quantity}: ${made}`;
    this.tell(
      row,
      'quantity',
      String(quantity),
      quantity,
      range === null ? 'likely' : 'guess',
      note,
    );
    return this.several(row, tags);
  }

  private single(row: RowDraft): FixtureDraft[] {
    return [{ row, tag: row.text.tag ?? null, place: row.number.place ?? null, nth: 0 }];
  }

  private several(row: RowDraft, tags: readonly string[]): FixtureDraft[] {
    const first = row.number.place ?? null;
    return tags.map((tag, nth) => ({
      row,
      tag,
      place: first === null ? null : first + nth,
      nth,
    }));
  }

  private tell(
    row: RowDraft,
    id: 'tag' | 'quantity',
    raw: string,
    value: string | number,
    confidence: 'sure' | 'likely' | 'guess' | 'refused',
    note: string,
  ): void {
    const column = this.plan.read.find((c) => c.id === id)?.column ?? 0;
    const place = { sheet: this.sheet, row: row.source.number, column };
    const cell = row.source.cells.find((c) => c.column === column);
    this.log.add(place, cell?.text ?? raw, id, value, confidence, note);
  }
}
