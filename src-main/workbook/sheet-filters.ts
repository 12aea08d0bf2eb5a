import type { MergedArea } from '../../src-shared/document/source-workbook.ts';
import { parseArea } from './cell-address.ts';
import type { PackageParts } from './package-parts.ts';
import { PART_ROOTS } from './part-roots.ts';
import type { Relationship } from './relationships.ts';
import type { OpenRow } from './sheet-rows.ts';
import { attributeOf, walkXml, type XmlAttributes } from './xml-walk.ts';

/**
 * Follows the `autoFilter` of a sheet or table (ECMA-376 part 1, 18.3.1.2). Only a filter with a
 * criterion hides rows: a `filterColumn` may say no more than that its button is not shown.
 */
export class FilterCollector {
  readonly areas: MergedArea[] = [];
  #area: MergedArea | undefined;
  #inFilter = false;
  #inColumn = false;
  #isSet = false;

  open(element: string, attributes: XmlAttributes): void {
    if (element === 'autoFilter') {
      this.#inFilter = true;
      this.#area = parseArea(attributeOf(attributes, 'ref') ?? '');
      this.#isSet = false;
    } else if (!this.#inFilter) return;
    else if (element === 'filterColumn') this.#inColumn = true;
    else if (this.#inColumn && element !== 'extLst') this.#isSet = true;
  }

  close(element: string): void {
    if (element === 'filterColumn') this.#inColumn = false;
    else if (element === 'autoFilter') {
      if (this.#area && this.#isSet) this.areas.push(this.#area);
      this.#inFilter = false;
    }
  }
}

/** Areas of the filters set in the tables of a sheet. */
function tableFilters(parts: PackageParts, links: ReadonlyMap<string, Relationship>): MergedArea[] {
  const collector = new FilterCollector();
  for (const link of links.values()) {
    if (link.kind !== 'table' || link.external) continue;
    const bytes = parts.read(link.target);
    if (bytes) {
      walkXml(
        bytes,
        parts.where(link.target),
        {
          open: (element, attributes) => collector.open(element, attributes),
          close: (element) => collector.close(element),
        },
        PART_ROOTS.table,
      );
    }
  }
  return collector.areas;
}

interface RowSpan {
  readonly first: number;
  last: number;
}

/** The rows below the headers of filters, in order, joined where they meet. */
function rowSpans(areas: readonly MergedArea[]): RowSpan[] {
  const spans: RowSpan[] = [];
  for (const { firstRow, lastRow } of [...areas].sort((a, b) => a.firstRow - b.firstRow)) {
    const before = spans.at(-1);
    if (before && before.last >= firstRow) before.last = Math.max(before.last, lastRow);
    else spans.push({ first: firstRow + 1, last: lastRow });
  }
  return spans;
}

/**
 * Marks the hidden rows that a filter hides: those below its header. Programs do not store which
 * rows of a filtered list were hidden by hand before, so these count as filtered too.
 * @param own filters of the sheet itself
 * @param rows in order; changed in place
 * @throws RefusalError from reading the parts of tables
 */
export function markFiltered(
  parts: PackageParts,
  links: ReadonlyMap<string, Relationship>,
  own: readonly MergedArea[],
  rows: readonly OpenRow[],
): void {
  if (!rows.some((row) => row.hidden)) return;
  const spans = rowSpans([...own, ...tableFilters(parts, links)]);
  let next = 0;
  for (const row of rows) {
    while ((spans[next]?.last ?? Number.POSITIVE_INFINITY) < row.number) next++;
    if (row.hidden && row.number >= (spans[next]?.first ?? Number.POSITIVE_INFINITY)) {
      row.filtered = true;
    }
  }
}
