/** A second file merged into the fixtures read so far, by tag. */
import type { ImportAnswers, ImportQuestion } from '../../document/project.ts';
import type { FixtureDraft } from '../schedule/expand-row.ts';
import type { ReadingBook } from '../schedule/reading-log.ts';
import { columnAmong, giverOf } from '../schedule/row-draft.ts';
import { placeOf } from '../schedule/tell-row.ts';
import { baseEvidence } from './base-evidence.ts';
import { otherTags, withFeederTags } from './feeder-tags.ts';
import { type DoubtfulTag, matchTags, type TagMatches } from './match-tags.ts';
import { mergeDrafts } from './merge-rows.ts';

/** Tags named in one sentence of the report. */
const MOST_NAMED = 20;

export interface MergeInput {
  readonly file: number;
  readonly fileName: string;
  /** Names of the files before it. */
  readonly before: readonly string[];
  readonly answers: ImportAnswers;
  readonly book: ReadingBook;
}

export interface Merged {
  readonly drafts: readonly FixtureDraft[];
  /** Null: every tag that is matched is the same as written. */
  readonly question: ImportQuestion | null;
  /** Its universes and those before look as if they were counted from different numbers. */
  readonly basesDiffer: boolean;
}

function named(tags: readonly (string | null)[]): string {
  const shown = tags.slice(0, MOST_NAMED).map((tag) => tag ?? 'one without tag');
  return tags.length > MOST_NAMED ? `${shown.join(', ')} …` : shown.join(', ');
}

/** The cell that holds the tag of a draft, in the file it came from. */
function tagCell({ row }: FixtureDraft) {
  const column = columnAmong(row, ['tag']) ?? 0;
  return { log: row.part.log, place: placeOf(row, column) };
}

function tellDoubtful(
  { first, second }: DoubtfulTag,
  a: readonly FixtureDraft[],
  b: readonly FixtureDraft[],
): void {
  const describe = (draft: FixtureDraft) => {
    const { log, place } = tagCell(draft);
    return `${draft.tag ?? '?'} (${log.nameOf(place)})`;
  };
  const firsts = first.flatMap((place) => a[place] ?? []);
  const seconds = second.flatMap((place) => b[place] ?? []);
  for (const draft of seconds) {
    const others = [...firsts, ...seconds.filter((other) => other !== draft)].map(describe);
    const { log, place } = tagCell(draft);
    const note = `the tag could be one of several: ${others.join(', ')}; matched to none of them, all are kept`;
    log.add(place, draft.tag ?? '', 'tag', draft.tag, 'refused', note);
  }
}

function questionOf(
  { file, fileName, before, answers }: MergeInput,
  matches: TagMatches,
  a: readonly FixtureDraft[],
  b: readonly FixtureDraft[],
): ImportQuestion | null {
  if (matches.alike.size === 0 && matches.doubtfulAlike.length === 0) return null;
  const answer = answers.questions.find((q) => q.id === 'tag-match' && q.file === file)?.value;
  const examples = [...matches.alike].slice(0, 3).map(([second, first]) => {
    return `${b[second]?.tag ?? ''} and ${a[first]?.tag ?? ''}`;
  });
  const such = examples.length === 0 ? '' : `, such as ${examples.join(', ')}`;
  return {
    id: 'tag-match',
    file,
    text: `${matches.alike.size} tags of ${fileName} are those of ${before.join(', ')} by letters and number only${such}. Are they the same fixtures?`,
    choices: [
      { value: 'alike', title: 'Yes: separators, capitals and leading zeros do not count' },
      { value: 'exact', title: 'No: only tags that are written the same' },
    ],
    chosen: answer === 'exact' ? 'exact' : 'alike',
    answered: answer !== undefined,
  };
}

function tellSummary(
  input: MergeInput,
  pairs: ReadonlyMap<number, number>,
  alike: number,
  a: readonly FixtureDraft[],
  b: readonly FixtureDraft[],
): void {
  const { book, fileName, before } = input;
  const by = alike === 0 ? '' : `, ${alike} of them by letters and number only`;
  const to = before.join(', ');
  const note = `${pairs.size} of its ${b.length} fixtures are matched by tag to those of ${to}${by}`;
  book.addRemark(fileName, note, alike === 0 ? 'sure' : 'likely', 'tag');
  const matched = new Set(pairs.values());
  const onlyBefore = a.filter((_, place) => !matched.has(place)).map(({ tag }) => tag);
  const onlyHere = b.filter((_, place) => !pairs.has(place)).map(({ tag }) => tag);
  const tell = (where: string, tags: readonly (string | null)[], missing: string) => {
    if (tags.length === 0) return;
    const count = tags.length === 1 ? '1 fixture is' : `${tags.length} fixtures are`;
    book.addRemark(where, `${count} not in ${missing} and kept: ${named(tags)}`, 'likely', 'tag');
  };
  tell(before[0] ?? '', onlyBefore, fileName);
  tell(fileName, onlyHere, to);
}

/** Tells at the file that counts lower that its universes may begin at 0. */
function tellBases(
  { book, file, fileName, before }: MergeInput,
  pairs: readonly (readonly [FixtureDraft, FixtureDraft])[],
): boolean {
  const evidence = baseEvidence(pairs);
  if (evidence === null) return false;
  const universes = pairs.flatMap(([{ row }]) => giverOf(row, 'universe').part.file);
  const firstFile = universes.find((of) => of < file) ?? 0;
  const names = [before[firstFile] ?? '', fileName] as const;
  const [lower, other] = evidence.lower === 'first' ? names : [names[1], names[0]];
  const note = `universes are one less than in ${other} on ${evidence.apart} of ${evidence.of} fixtures: say whether this file counts them from 0`;
  book.addRemark(lower, note, 'guess', 'universe');
  return true;
}

/**
 * Merges the fixtures of a further file: those with one tag are one fixture, the others follow behind.
 * A tag that could mean several is matched to none and told.
 */
export function mergeFile(
  a: readonly FixtureDraft[],
  b: readonly FixtureDraft[],
  input: MergeInput,
): Merged {
  const matches = matchTags(
    a.map(({ tag }) => tag),
    b.map(({ tag }) => tag),
  );
  const question = questionOf(input, matches, a, b);
  const useAlike = question?.chosen === 'alike';
  const pairs = new Map([...matches.exact, ...(useAlike ? matches.alike : [])]);
  for (const doubt of matches.doubtfulExact) tellDoubtful(doubt, a, b);
  if (useAlike) for (const doubt of matches.doubtfulAlike) tellDoubtful(doubt, a, b);
  const byFirst = new Map([...pairs].map(([second, first]) => [first, second]));
  const drafts = [...pairs].flatMap(([second, first]) => {
    const [one, other] = [a[first], b[second]];
    return one === undefined || other === undefined ? [] : [[one, other] as const];
  });
  const basesDiffer = tellBases(input, drafts);
  const merged = a.map((draft, place) => {
    const second = b[byFirst.get(place) ?? -1];
    return second === undefined ? draft : mergeDrafts(draft, second);
  });
  const rest = b.filter((_, place) => !pairs.has(place));
  tellSummary(input, pairs, useAlike ? matches.alike.size : 0, a, b);
  const all = withFeederTags([...merged, ...rest], otherTags(drafts), input.file);
  return { drafts: all, question, basesDiffer };
}
