/** Which formulas of a workbook say something else once some cells are changed. */

import type { MergedArea } from '../../../src-shared/document/source-workbook.ts';
import { parseArea } from '../cell-address.ts';
import { SHEET_LAST_COLUMN, SHEET_LAST_ROW } from '../read-limits.ts';
import { moveFormula } from '../shared-formula.ts';
import { cellKey, type SheetFormula, type SheetMap } from './sheet-map.ts';
import { decodedText } from './xml-write.ts';

export interface BookSheet {
  readonly name: string;
  readonly map: SheetMap;
}

export interface CellAt {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
}

export interface Reference {
  readonly sheet: string;
  readonly area: MergedArea;
}

/** Areas of more cells are looked through one by one instead of cell by cell. */
const LARGE_AREA = 64;

// Quoted text is skipped; then a sheet's name, if any, before cells, columns or rows.
const REFERENCE =
  /"(?:[^"]|"")*"|(?:('(?:[^']|'')+'|[\p{L}_][\p{L}\p{N}_.]*)!)?(?:(\$?[A-Za-z]{1,3}\$?\d{1,7}(?::\$?[A-Za-z]{1,3}\$?\d{1,7})?)(?![\p{L}\p{N}_.(!])|(\$?[A-Za-z]{1,3}:\$?[A-Za-z]{1,3})(?![\p{L}\p{N}_.(!])|(\$?\d{1,7}:\$?\d{1,7}))|([\p{L}_\\][\p{L}\p{N}_.\\]*)/gu;

/** Functions that look at cells their text does not name. */
const FAR_SIGHTED = new Set(['INDIRECT', 'OFFSET', 'GETPIVOTDATA', 'CELL', 'INFO']);

function wholeArea(text: string): MergedArea | undefined {
  const [from = '', to = from] = text.replaceAll('$', '').split(':');
  if (/^\d/.test(from)) {
    const [a, b] = [Number(from), Number(to)];
    return {
      firstRow: Math.min(a, b),
      lastRow: Math.max(a, b),
      firstColumn: 0,
      lastColumn: SHEET_LAST_COLUMN,
    };
  }
  const area = parseArea(`${from}1:${to}1`);
  return area === undefined ? undefined : { ...area, lastRow: SHEET_LAST_ROW };
}

/** What names and tables of a workbook stand for. */
export interface BookNames {
  /** What each defined name refers to, by lower-case name. */
  readonly names: ReadonlyMap<string, string>;
  /** Where each table stands, by lower-case name. */
  readonly tables: ReadonlyMap<string, Reference>;
}

/**
 * Tables a formula names (`Loads[W]`), as a whole; `[W]` and `[@W]` are of the table on the formula's
 * own sheet, so all of its tables count. `[1]` before a sheet is a link to another workbook.
 */
function tablesIn(
  formula: string,
  sheet: string,
  { tables }: BookNames,
): { references: Reference[]; anything: boolean } {
  const references: Reference[] = [];
  let anything = false;
  const bare = formula.replace(/"(?:[^"]|"")*"/g, '').replace(/'?\[\d+\]/g, '');
  if (!bare.includes('[')) return { references, anything };
  for (const [, name] of bare.matchAll(/([\p{L}_\\][\p{L}\p{N}_.\\]*)?\[/gu)) {
    if (name === undefined) {
      references.push(...[...tables.values()].filter((table) => table.sheet === sheet));
      continue;
    }
    const table = tables.get(name.toLowerCase());
    if (table === undefined) anything = true;
    else references.push(table);
  }
  return { references, anything };
}

/** What a formula looks at; `anything` where that cannot be told from its text. */
function referencesOf(
  formula: string,
  sheet: string,
  book: BookNames,
  depth = 0,
): { references: Reference[]; anything: boolean } {
  const tables = tablesIn(formula, sheet, book);
  const references: Reference[] = [...tables.references];
  let anything = tables.anything;
  for (const found of formula.matchAll(REFERENCE)) {
    const [, named, cells, columns, rows, word] = found;
    const on = named === undefined ? sheet : named.replace(/^'|'$/g, '').replaceAll("''", "'");
    const whole = columns ?? rows;
    const area =
      cells !== undefined
        ? parseArea(cells.replaceAll('$', ''))
        : whole !== undefined
          ? wholeArea(whole)
          : undefined;
    if (area !== undefined) references.push({ sheet: on, area });
    if (word === undefined) continue;
    if (FAR_SIGHTED.has(word.toUpperCase())) anything = true;
    const meant = book.names.get(word.toLowerCase());
    if (meant === undefined || depth > 4) continue;
    const inner = referencesOf(meant, sheet, book, depth + 1);
    references.push(...inner.references);
    anything ||= inner.anything;
  }
  return { references, anything };
}

/** The text of a formula; that of a follower of a group moved from the group's first cell. */
export function formulaText(
  map: SheetMap,
  formula: SheetFormula,
  firsts: ReadonlyMap<string, GroupFirst>,
): string {
  const own = ownText(map, formula);
  const first = formula.group === null ? undefined : firsts.get(formula.group);
  return own !== '' || first === undefined ? own : moveFormula(first.text, first, formula);
}

interface Listener {
  readonly sheet: string;
  readonly formula: SheetFormula;
}

/**
 * Formulas that depend on the changed cells, directly or through others. Those whose cells cannot be
 * told from their text count as dependent.
 */
export function followersOf(
  changed: readonly CellAt[],
  sheets: readonly BookSheet[],
  book: BookNames,
): CellAt[] {
  const byCell = new Map<string, Map<number, Listener[]>>();
  const byArea: { readonly area: MergedArea; readonly sheet: string; readonly who: Listener }[] =
    [];
  const always: Listener[] = [];
  for (const { name, map } of sheets) {
    const firsts = firstsOfGroups(map);
    for (const formula of map.formulas.values()) {
      const text = formulaText(map, formula, firsts);
      const { references, anything } = referencesOf(text, name, book);
      const who = { sheet: name, formula };
      if (anything) always.push(who);
      for (const { sheet, area } of references) listen(byCell, byArea, sheet, area, who);
    }
  }
  const reached = new Set<SheetFormula>();
  const found: CellAt[] = [];
  const queue: CellAt[] = [...changed];
  const reach = ({ sheet, formula }: Listener) => {
    if (reached.has(formula)) return;
    reached.add(formula);
    const at = { sheet, row: formula.row, column: formula.column };
    found.push(at);
    queue.push(at);
  };
  if (changed.length > 0) for (const who of always) reach(who);
  for (let next = 0; next < queue.length; next += 1) {
    const at = queue[next];
    if (at === undefined) break;
    const { row, column } = at;
    const key = at.sheet.toLowerCase();
    for (const who of byCell.get(key)?.get(cellKey(row, column)) ?? []) reach(who);
    for (const { area, sheet, who } of byArea) {
      const has =
        sheet === key &&
        row >= area.firstRow &&
        row <= area.lastRow &&
        column >= area.firstColumn &&
        column <= area.lastColumn;
      if (has) reach(who);
    }
  }
  const isChanged = new Set(changed.map((at) => `${at.sheet} ${cellKey(at.row, at.column)}`));
  return found.filter((at) => !isChanged.has(`${at.sheet} ${cellKey(at.row, at.column)}`));
}

function listen(
  byCell: Map<string, Map<number, Listener[]>>,
  byArea: { area: MergedArea; sheet: string; who: Listener }[],
  sheet: string,
  area: MergedArea,
  who: Listener,
): void {
  const key = sheet.toLowerCase();
  const count = (area.lastRow - area.firstRow + 1) * (area.lastColumn - area.firstColumn + 1);
  if (count > LARGE_AREA) {
    byArea.push({ area, sheet: key, who });
    return;
  }
  let cells = byCell.get(key);
  if (cells === undefined) {
    cells = new Map();
    byCell.set(key, cells);
  }
  for (let row = area.firstRow; row <= area.lastRow; row += 1) {
    for (let column = area.firstColumn; column <= area.lastColumn; column += 1) {
      const at = cellKey(row, column);
      const list = cells.get(at);
      if (list === undefined) cells.set(at, [who]);
      else list.push(who);
    }
  }
}

const ownText = (map: SheetMap, { content }: SheetFormula) =>
  decodedText(map.text.slice(content.start, content.end));

export interface GroupFirst {
  readonly row: number;
  readonly column: number;
  readonly text: string;
}

/** The cell of each group of shared formulas that states the formula. */
export function firstsOfGroups(map: SheetMap): Map<string, GroupFirst> {
  const firsts = new Map<string, GroupFirst>();
  for (const formula of map.formulas.values()) {
    const { group, row, column } = formula;
    if (group === null || firsts.has(group)) continue;
    const text = ownText(map, formula);
    if (text !== '') firsts.set(group, { row, column, text });
  }
  return firsts;
}
