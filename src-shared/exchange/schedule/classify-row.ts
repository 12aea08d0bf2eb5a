/** What a row below the header is: fixtures, or something to skip, with the reason. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import type { SourceCell, SourceRow } from '../../document/source-workbook.ts';
import { NO_LONGER_IN_JOB } from '../export/own-columns.ts';
import { isBlank, isDitto, textOf } from './cell-text.ts';
import { joinedText } from './find-header.ts';
import type { ColumnPlan } from './plan-columns.ts';
import type { SheetView } from './sheet-view.ts';

/** Null: the row stands for fixtures. */
export type SkipReason =
  | 'hidden'
  | 'hidden by a filter'
  | 'struck through'
  | 'subtotal'
  | 'repeated header'
  | 'note'
  | 'blank'
  | 'quantity 0'
  | typeof NO_LONGER_IN_JOB;

const subtotal =
  /^(?:sub[- ]?totals?|(?:grand |overall |running )?totals?|sums?|carried forward|brought forward)(?=$|[\s:=(,–—-])/iu;
const noteStart =
  /^(?:notes?|n\.?b\.?|remarks?|legend|key|see|rev(?:ision)?|\*+|†)(?=$|[\s:.)\d])/iu;
const sumFormula = /\b(?:sum|subtotal|aggregate|counta?)\s*\(/iu;

/** Columns that say something of a fixture even where its tag is missing. */
const telling: readonly SourceColumnId[] = [
  'place', 'span', 'leadIn', 'load', 'universe', 'address', 'mode', 'footprint', 'quantity', 'circuit',
]; // biome-ignore format: a list

export class RowClassifier {
  private readonly columnOf = new Map<SourceColumnId, number>();
  private readonly readColumns = new Set<number>();
  private readonly rowIdColumn: number | null;
  /** Header texts of a column, lower case. */
  private readonly headers = new Map<number, ReadonlySet<string>>();

  constructor(
    plan: ColumnPlan,
    private readonly view: SheetView,
    private readonly readHidden: boolean,
  ) {
    this.rowIdColumn = plan.rowIdColumn;
    for (const { id, column, header } of plan.read) {
      this.columnOf.set(id, column);
      this.readColumns.add(column);
      const texts = [header.upper, header.lower, joinedText(header)].filter((text) => text !== '');
      this.headers.set(column, new Set(texts.map((text) => text.toLowerCase())));
    }
  }

  /** Why the row is skipped; null when it stands for fixtures. */
  skipReason(row: SourceRow): SkipReason | null {
    if (row.hidden && !this.readHidden) return row.filtered ? 'hidden by a filter' : 'hidden';
    const filled = row.cells.filter((cell) => !isBlank(cell));
    if (filled.length === 0) return 'blank';
    if (this.isStruck(filled)) return 'struck through';
    if (this.isRepeatedHeader(filled)) return 'repeated header';
    // Our export leaves the row of a removed fixture where it is and says so.
    if (this.rowIdColumn !== null && filled.some((cell) => textOf(cell) === NO_LONGER_IN_JOB))
      return NO_LONGER_IN_JOB;
    // A row with an id of ours was a fixture when it was written, with or without a tag.
    if (filled.some((cell) => cell.column === this.rowIdColumn)) return null;
    const tag = this.cellOf(filled, 'tag');
    const tagText = textOf(tag);
    if (subtotal.test(tagText) || this.isCounted(filled, tag)) return 'subtotal';
    if (tag === undefined) return this.skipTagless(row, filled);
    return this.isProse(row, filled, tagText) ? 'note' : null;
  }

  /** A row without type and run that begins as a subtotal, or whose tag is a number counted or summed up. */
  private isCounted(filled: readonly SourceCell[], tag: SourceCell | undefined): boolean {
    if (this.has(filled, 'type') || this.has(filled, 'run')) return false;
    if (tag?.kind === 'number' && sumFormula.test(tag.formula ?? '')) return true;
    const [first] = filled;
    return first?.kind === 'text' && subtotal.test(textOf(first));
  }

  private cellOf(filled: readonly SourceCell[], id: SourceColumnId): SourceCell | undefined {
    const column = this.columnOf.get(id);
    return column === undefined ? undefined : filled.find((cell) => cell.column === column);
  }

  private has(filled: readonly SourceCell[], id: SourceColumnId): boolean {
    return this.cellOf(filled, id) !== undefined;
  }

  /** The tag and at least half of the row; or, without a tag, all of it. */
  private isStruck(filled: readonly SourceCell[]): boolean {
    const struck = filled.filter((cell) => cell.struck === true).length;
    if (struck === 0) return false;
    const tag = this.cellOf(filled, 'tag');
    if (tag === undefined) return struck === filled.length;
    return tag.struck === true && struck * 2 >= filled.length;
  }

  private isRepeatedHeader(filled: readonly SourceCell[]): boolean {
    let same = 0;
    for (const cell of filled) {
      const header = cell.kind === 'text' ? this.headers.get(cell.column) : undefined;
      if (header?.has(textOf(cell).toLowerCase())) same += 1;
    }
    const needed = Math.min(2, this.headers.size);
    return (
      same >= needed && same * 2 >= filled.filter((c) => this.readColumns.has(c.column)).length
    );
  }

  private skipTagless(row: SourceRow, filled: readonly SourceCell[]): SkipReason | null {
    if (filled.some((cell) => cell.kind === 'text' && subtotal.test(textOf(cell))))
      return 'subtotal';
    if (filled.some((cell) => sumFormula.test(cell.formula ?? ''))) return 'subtotal';
    const first = textOf(filled[0]);
    if (noteStart.test(first)) return 'note';
    const told = telling.filter((id) => this.has(filled, id)).length;
    // No sum has a start address.
    const onRun = this.has(filled, 'place') || this.has(filled, 'address');
    const named = this.has(filled, 'type') || (this.has(filled, 'run') && onRun);
    const tagColumn = this.columnOf.get('tag') ?? -1;
    const underMergedTag = this.view.areaFromAbove(row.number, tagColumn) !== null;
    if ((named && told > 0) || (underMergedTag && told > 1)) return null;
    const onlyNumbers = filled.every((cell) => cell.kind === 'number');
    return onlyNumbers ? 'subtotal' : 'note';
  }

  /** A heading or a remark that stands in the tag column. */
  private isProse(row: SourceRow, filled: readonly SourceCell[], tag: string): boolean {
    const others = filled.filter(
      (cell) => this.readColumns.has(cell.column) && cell.column !== this.columnOf.get('tag'),
    );
    const told =
      telling.some((id) => this.has(filled, id)) ||
      this.has(filled, 'type') ||
      this.has(filled, 'run');
    if (noteStart.test(tag) && !told) return true;
    if (others.length > 0) return tag.length > 60 && !told;
    if (this.readColumns.size < 3 || isDitto(tag)) return false;
    if (this.view.widestMerge(row.number) >= 3 || tag.length > 30 || tag.endsWith(':')) return true;
    if (/^\d+[.)] /u.test(tag) || tag.split(' ').length > 3) return true;
    const digits = /\d/u.test(tag);
    if (tag.includes(' ')) return !digits || /^\p{L}{3,}/u.test(tag);
    return !digits && tag.length > 3;
  }
}
