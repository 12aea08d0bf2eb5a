/** How a file counts universes and start addresses, seen over all its sheets that are read. */
import type { ImportAnswers, ImportQuestion } from '../../document/project.ts';
import type { SourceCell } from '../../document/source-workbook.ts';
import { normaliseText } from '../../units/normalise-text.ts';
import { isBlank, textOf } from './cell-text.ts';
import type { PartRows } from './part-rows.ts';
import { universeInAddress } from './read-address-cell.ts';
import { plainCount } from './read-count-cell.ts';
import { type HyphenHabit, slotRange } from './slot-range.ts';

export interface UniverseHabits {
  /** The number its first universe has. */
  readonly base: 0 | 1;
  /** Universes are stated somewhere in the file. */
  readonly stated: boolean;
  /** Null: nothing in the file raises it. */
  readonly question: ImportQuestion | null;
}

/** Cells of one column in the rows that stand for fixtures. */
function cellsOf({ part, classified }: PartRows, id: 'universe' | 'address'): SourceCell[] {
  const column = part.plan.read.find((c) => c.id === id)?.column;
  if (column === undefined) return [];
  return classified.rows.flatMap(({ row, reason }) => {
    const cell = reason === null ? row.cells.find((c) => c.column === column) : undefined;
    return cell === undefined || isBlank(cell) || cell.struck === true ? [] : [cell];
  });
}

function universesOf(one: PartRows, hyphens: HyphenHabit): number[] {
  const counts = cellsOf(one, 'universe').map((cell) => plainCount(cell, 'universe'));
  const pairs = cellsOf(one, 'address').map((cell) => universeInAddress(cell, hyphens));
  return [...counts, ...pairs].filter((universe): universe is number => universe !== null);
}

const fromWord =
  /\buniverses?\b[^.;]{0,30}?\b(?:from|start(?:s|ing)? (?:at|from|with)|begin(?:s|ning)? (?:at|from|with)|base)\s*:?\s*([01])\b|\b([01])[- ]based universes?\b/iu;

/** "Universes from 1" above the header; null: nothing is said. */
function statedBase(parts: readonly PartRows[]): 0 | 1 | null {
  for (const { part } of parts) {
    for (const row of part.sheet.rows) {
      if (row.number >= part.header.row) break;
      for (const cell of row.cells) {
        const found = fromWord.exec(normaliseText(cell.text.slice(0, 300)));
        const base = found?.[1] ?? found?.[2];
        if (base !== undefined) return base === '0' ? 0 : 1;
      }
    }
  }
  return null;
}

/** Settles how a file counts universes: as answered, else as its title says, else from 0 where a universe 0 occurs. */
export function universeHabits(
  parts: readonly PartRows[],
  file: number,
  fileName: string,
  answers: ImportAnswers,
  hyphens: HyphenHabit,
): UniverseHabits {
  const universes = parts.flatMap((one) => universesOf(one, hyphens));
  const stated = universes.length > 0;
  const zero = universes.includes(0);
  const said = stated ? statedBase(parts) : null;
  const answer = answers.questions.find((q) => q.id === 'universe-base' && q.file === file)?.value;
  const found: 0 | 1 = zero || said === 0 ? 0 : 1;
  const base: 0 | 1 = answer === undefined ? found : answer === '0' ? 0 : 1;
  if (!zero && said === null && answer === undefined) return { base, stated, question: null };
  return { base, stated, question: baseQuestion(file, fileName, base, zero, said, answer) };
}

/** The question, put also where nothing in the file raises it but another file does. */
export function baseQuestion(
  file: number,
  fileName: string,
  base: 0 | 1,
  zero: boolean,
  said: 0 | 1 | null,
  answer: string | undefined,
): ImportQuestion {
  const why = zero
    ? `A universe 0 occurs in ${fileName}.`
    : said === null
      ? `No universe 0 occurs in ${fileName}, but one does in the other file.`
      : `${fileName} says that its universes count from ${said}.`;
  return {
    id: 'universe-base',
    file,
    text: `${why} From which number do its universes count?`,
    choices: [
      { value: '0', title: 'From 0: one is added to each' },
      { value: '1', title: 'From 1: as they stand' },
    ],
    chosen: String(base),
    answered: answer !== undefined,
  };
}

/** Start addresses that pass 512 where no universe is stated anywhere are counted through all universes. */
export function countsThroughUniverses(parts: readonly PartRows[], hyphens: HyphenHabit): boolean {
  let past = false;
  for (const one of parts) {
    if (one.part.plan.read.some((c) => c.id === 'universe')) return false;
    for (const cell of cellsOf(one, 'address')) {
      const range = hyphens === 'range' ? slotRange(textOf(cell)) : null;
      const text = range === null ? textOf(cell) : String(range.first);
      if (/^\d+[/.:-]\d+$/u.test(text)) return false;
      if (/^\d{3,6}$/u.test(text) && Number(text) > 512) past = true;
    }
  }
  return past;
}

/** Most start addresses are texts with their universe before a point: `2.101`. */
export function writesPoints(parts: readonly PartRows[]): boolean {
  const texts = parts.flatMap((one) =>
    cellsOf(one, 'address').flatMap((cell) => (cell.kind === 'text' ? [textOf(cell)] : [])),
  );
  return texts.filter((text) => /^\d{1,5}\.\d{1,3}$/u.test(text)).length * 2 > texts.length;
}
