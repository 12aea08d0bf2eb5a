/** Columns nobody has named that look as if they held runs or types: told, never read unasked. */
import type { FixtureType } from '../../document/project.ts';
import { nameKey } from '../../solve/fixture-facts.ts';
import { isBlank, textOf } from './cell-text.ts';
import { headerWords } from './header-words.ts';
import type { PartRows } from './part-rows.ts';
import type { PlannedColumn } from './plan-columns.ts';

const FEWEST_ROWS = 4;
const runWords = /\b(?:string|chain|leg|loop|feed|home ?run|branch|group|daisy|line|run)\b/u;
const typeWords = /\b(?:type|typ|ltg|lum|luminaire|fixture|fitting|model|symbol)\b/u;

/** Texts of a column in the rows that stand for fixtures; `''` where blank. */
function textsOf({ classified }: PartRows, column: number): string[] {
  return classified.rows.flatMap(({ row, reason }) => {
    if (reason !== null) return [];
    const cell = row.cells.find((c) => c.column === column);
    return [cell === undefined || isBlank(cell) ? '' : textOf(cell)];
  });
}

/** Few values in blocks, each beginning again where the places do, or under a header that names a chain. */
function looksLikeRuns(one: PartRows, { column, header }: PlannedColumn): boolean {
  const texts = textsOf(one, column).filter((text) => text !== '');
  const distinct = new Set(texts).size;
  let blocks = 0;
  texts.forEach((text, at) => {
    if (text !== texts[at - 1]) blocks += 1;
  });
  const grouped =
    texts.length >= FEWEST_ROWS && distinct * 2 <= texts.length && blocks === distinct;
  if (!grouped) return false;
  if (runWords.test(headerWords(header))) return true;
  const place = one.part.plan.read.find((c) => c.id === 'place')?.column;
  if (place === undefined || distinct < 2) return false;
  const all = textsOf(one, column);
  const places = textsOf(one, place);
  return all.every((text, at) => at === 0 || (text !== all[at - 1]) === (places[at] === '1'));
}

/** Most of its values are types of the legend, or its header names types and its values repeat. */
function looksLikeTypes(
  one: PartRows,
  { column, header }: PlannedColumn,
  types: ReadonlySet<string>,
): boolean {
  const texts = textsOf(one, column).filter((text) => text !== '');
  if (texts.length < FEWEST_ROWS) return false;
  const known = texts.filter((text) => types.has(nameKey(text))).length;
  if (known * 2 > texts.length) return true;
  const short = texts.every((text) => text.length <= 12 && /\p{L}/u.test(text));
  return typeWords.test(headerWords(header)) && short && new Set(texts).size * 2 <= texts.length;
}

/** Tells of columns under unknown headers that look like the runs or types the sheet lacks. */
export function tellUnknownColumns(one: PartRows, legend: readonly FixtureType[]): void {
  const { plan, log, sheet, header } = one.part;
  const types = new Set(legend.map(({ name }) => nameKey(name)));
  const has = (id: string) => plan.read.some((column) => column.id === id);
  for (const column of plan.columns) {
    if (column.columnId !== null || plan.doubts.some((d) => d.column === column.column)) continue;
    const isType = !has('type') && looksLikeTypes(one, column, types);
    const isRun = !isType && !has('run') && looksLikeRuns(one, column);
    if (!isType && !isRun) continue;
    const what = isType ? 'types' : 'runs';
    const note = `this column looks as if it held ${what}, and no column of ${what} was found; carried along unread until you say what it holds`;
    const place = { sheet: sheet.name, row: header.row, column: column.column };
    log.add(place, column.header, null, null, 'guess', note);
  }
}
