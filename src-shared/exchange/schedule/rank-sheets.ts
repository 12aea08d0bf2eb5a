/** The sheets of a workbook that could be the schedule, best first. */

import { columnById } from '../../columns/column-table.ts';
import type { SourceSheet, SourceWorkbook } from '../../document/source-workbook.ts';
import { ownSheetOf, sheetNames } from '../sheet-names.ts';
import { isBlank, isDitto, looseKey, textOf } from './cell-text.ts';
import { type FoundHeader, findHeader, headerAt, type MappedHeaders } from './find-header.ts';
import { headerWords } from './header-words.ts';
import { matchJoinedHeader } from './match-header.ts';

/** A sheet with a header, and what speaks for it being the schedule. */
export interface RankedSheet {
  readonly sheet: SourceSheet;
  readonly header: FoundHeader;
  /** Supporting sheets and hidden ones come last. */
  readonly aside: number;
  readonly hasRows: boolean;
  readonly rowsBelow: number;
  readonly tagColumn: number | null;
  /** It came out of our export. */
  readonly hasOwnIds: boolean;
}

const setAside = new Set(['Legend', 'Fixture types', 'Luminaire types'].map(looseKey));
const schedules: readonly string[] = [sheetNames.schedule, sheetNames.markedUpFixtures];

function isAside(name: string): boolean {
  const own = ownSheetOf(name);
  return setAside.has(looseKey(name)) || (own !== null && !schedules.includes(own));
}

/** A sheet with the name of one of ours and without our ids. */
export function isResultSheet({ sheet, hasOwnIds }: RankedSheet): boolean {
  const own = ownSheetOf(sheet.name);
  return !hasOwnIds && own !== null && !schedules.includes(own);
}

const ownId = looseKey(columnById('rowId').title);

/** The sheet has our column of ids: it came out of our export. */
function hasOwnIds(header: FoundHeader): boolean {
  return header.texts.some((text) => looseKey(text.lower) === ownId);
}

function columnFor(id: string, header: FoundHeader, mapped: MappedHeaders): number | null {
  const given = header.texts.find(
    (t) => mapped.get(headerWords(t.upper === '' ? t.lower : `${t.upper} / ${t.lower}`)) === id,
  );
  if (given !== undefined) return given.column;
  return header.texts.find((t) => matchJoinedHeader(t.upper, t.lower)?.id === id)?.column ?? null;
}

export function rankSheet(
  sheet: SourceSheet,
  header: FoundHeader,
  mapped: MappedHeaders,
): RankedSheet {
  const below = sheet.rows.filter((row) => row.number > header.row);
  const tag = columnFor('tag', header, mapped);
  const type = columnFor('type', header, mapped);
  const quantity = columnFor('quantity', header, mapped);
  const hasRows = below.some(({ cells }) => {
    const has = (at: number | null) => cells.some((c) => c.column === at && !isBlank(c));
    // A row of a quantity schedule may have no tag.
    return has(tag) || (has(type) && has(quantity));
  });
  const aside = (isAside(sheet.name) ? 1 : 0) + (sheet.hidden ? 2 : 0);
  return {
    sheet,
    header,
    aside,
    hasRows,
    rowsBelow: below.length,
    tagColumn: tag,
    hasOwnIds: hasOwnIds(header),
  };
}

export function compareSheets(a: RankedSheet, b: RankedSheet): number {
  return (
    Number(b.hasRows) - Number(a.hasRows) ||
    Number(b.hasOwnIds) - Number(a.hasOwnIds) ||
    a.aside - b.aside ||
    b.header.known - a.header.known ||
    b.rowsBelow - a.rowsBelow
  );
}

/** Every sheet with a tag header, best first. `headerRows`: rows the engineer has named, by sheet. */
export function rankSheets(
  workbook: SourceWorkbook,
  headerRows: ReadonlyMap<string, number>,
  mapped: MappedHeaders,
): RankedSheet[] {
  return workbook.sheets
    .flatMap((sheet) => {
      const row = headerRows.get(sheet.name);
      const named = row === undefined ? null : headerAt(sheet, row, mapped);
      const header = named?.hasTag === true ? named : findHeader(sheet, mapped);
      return header === null ? [] : [rankSheet(sheet, header, mapped)];
    })
    .filter((ranked) => ranked.header.hasTag)
    .sort(compareSheets);
}

/** Longer texts in a tag column are headings and notes. */
const LONGEST_TAG = 30;

/** Tags of a sheet by loose words, those of rows of any kind; ditto marks and struck-through ones are none. */
export function tagsOf({ sheet, header, tagColumn: column }: RankedSheet): Set<string> {
  const tags = new Set<string>();
  for (const row of sheet.rows) {
    if (row.number <= header.row) continue;
    const cell = row.cells.find((one) => one.column === column);
    const text = cell?.struck === true ? '' : textOf(cell);
    if (text !== '' && !isDitto(text) && text.length <= LONGEST_TAG) tags.add(looseKey(text));
  }
  return tags;
}
