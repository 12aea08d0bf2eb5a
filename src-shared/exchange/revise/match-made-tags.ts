/** Fixtures of quantity rows, whose tags were made and may be others once a row above has another quantity. */
import type { Fixture } from '../../document/project.ts';
import { tagsOfList, tagsOfRange } from '../schedule/tag-range.ts';

/** The fixtures of one source row, in order. */
type Row = readonly Fixture[];

function rowsOf(fixtures: readonly Fixture[]): Row[] {
  const rows = new Map<string, Fixture[]>();
  for (const fixture of fixtures) {
    const { origin } = fixture;
    if (origin === null) continue;
    const key = JSON.stringify([origin.file, origin.sheet, origin.row]);
    const row = rows.get(key);
    if (row === undefined) rows.set(key, [fixture]);
    else row.push(fixture);
  }
  return [...rows.values()];
}

/** Several fixtures whose tags no cell of their row spells out. */
function hasMadeTags(row: Row): boolean {
  const [first] = row;
  if (row.length < 2 || first === undefined || first.tag === null) return false;
  return !(first.origin?.cells ?? []).some((cell) => {
    const text = typeof cell === 'string' ? cell.trim() : '';
    const tags = tagsOfRange(text, row.length) ?? tagsOfList(text) ?? [];
    return tags.includes(first.tag ?? '');
  });
}

/** What a row says besides its quantity. */
function keyOf([first]: Row): string {
  const { tag, run, type, location, area } = first ?? {};
  return JSON.stringify([tag?.replace(/-\d+$/u, ''), run, type, location, area]);
}

function byKey(fixtures: readonly Fixture[]): Map<string, Row[]> {
  const rows = new Map<string, Row[]>();
  for (const row of rowsOf(fixtures).filter(hasMadeTags)) {
    const key = keyOf(row);
    rows.set(key, [...(rows.get(key) ?? []), row]);
  }
  return rows;
}

/**
 * Pairs the fixtures of quantity rows that say the same but for their quantity, first with first: where
 * as many such rows stand in either file, in their order. Their tags do not count.
 */
export function madeTagPairs(
  base: readonly Fixture[],
  revised: readonly Fixture[],
): (readonly [base: Fixture, revised: Fixture])[] {
  const after = byKey(revised);
  return [...byKey(base)].flatMap(([key, rows]) => {
    const others = after.get(key) ?? [];
    if (others.length !== rows.length) return [];
    return rows.flatMap((row, place) =>
      row.flatMap((fixture, nth) => {
        const other = others[place]?.[nth];
        return other === undefined ? [] : [[fixture, other] as const];
      }),
    );
  });
}
