/** Types, panels and lines of several files as one list each: the first file's hold, blanks are filled. */
import type { FixtureType } from '../../document/project.ts';
import { nameKey } from '../../solve/fixture-facts.ts';
import type { ReadingBook } from '../schedule/reading-log.ts';
import { joinedType } from '../tables/read-types.ts';
import type { SupportingData } from '../tables/supporting-sheets.ts';

export interface SupportOfFile {
  readonly fileName: string;
  readonly data: SupportingData;
}

/** Fields of two records that state different values. */
function differing<T extends object>(first: T, second: T): string[] {
  const fields = Object.keys(first) as (keyof T & string)[];
  return fields.filter((field) => {
    const [a, b] = [first[field], second[field]];
    if (a === null || b === null || field === 'name' || field === 'description') return false;
    if (Array.isArray(a) || Array.isArray(b)) return false;
    return a !== b;
  });
}

function mergeNamed<T extends { readonly name: string }>(
  files: readonly SupportOfFile[],
  listOf: (data: SupportingData) => readonly T[],
  what: string,
  join: (first: T, second: T) => T,
  book: ReadingBook,
): T[] {
  const byKey = new Map<string, T>();
  for (const { fileName, data } of files) {
    for (const record of listOf(data)) {
      const key = nameKey(record.name);
      const first = byKey.get(key);
      byKey.set(key, first === undefined ? record : join(first, record));
      const fields = first === undefined ? [] : differing(first, record);
      if (fields.length === 0) continue;
      const note = `${what} ${record.name} differs here in ${fields.join(', ')} from the file before: that one holds`;
      book.addRemark(fileName, note, 'guess');
    }
  }
  return [...byKey.values()];
}

function filled<T extends object>(first: T, second: T): T {
  const stated = (record: T) =>
    Object.fromEntries(
      Object.entries(record).filter(([, v]) => v !== null && !(Array.isArray(v) && v.length === 0)),
    );
  return { ...first, ...stated(second), ...stated(first) };
}

/** All files' supporting data; profile, name and settings are those of the first file that has a project sheet. */
export function mergeSupport(files: readonly SupportOfFile[], book: ReadingBook): SupportingData {
  const [first] = files;
  if (first === undefined) throw new Error('no file');
  if (files.length === 1) return first.data;
  const { project, profile } =
    files.find(({ data }) => data.project.name !== null || data.project.profile !== null)?.data ??
    first.data;
  return {
    project,
    profile,
    types: mergeNamed<FixtureType>(files, (data) => data.types, 'type', joinedType, book),
    supplies: mergeNamed(files, (data) => data.supplies, 'panel', filled, book),
    lines: mergeNamed(files, (data) => data.lines, 'line', filled, book),
  };
}
