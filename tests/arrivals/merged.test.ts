/**
 * The programmer's export and the contractor's sheet of one job, merged by tag. Source: the truth file
 * `tarnmoor-merged.truth.json`, made from the data both workbooks were made of.
 */
import { describe, expect, it } from 'vitest';
import { originsOf } from '../../src-shared/document/import-answers.ts';
import type { Fixture, ImportAnswers, Project } from '../../src-shared/document/project.ts';
import { Held, readArrival, sameValue, truthOf, type Value } from './truth.ts';

interface Side {
  readonly tag: string;
  readonly row: number;
}

interface MergedTruth {
  readonly onlyInPatch: readonly string[];
  readonly onlyInInstall: readonly string[];
  readonly conflicts: readonly {
    readonly tag: string;
    readonly key: string;
    readonly patch: { readonly cell: string };
    readonly install: { readonly cell: string };
  }[];
  readonly fixtures: readonly ({
    readonly tag: string;
    readonly patch: Side | null;
    readonly install: Side | null;
  } & Readonly<Record<string, Value | Side>>)[];
}

const isValue = (value: Value | Side): value is Value =>
  value === null || typeof value !== 'object';

const names = ['tarnmoor-patch', 'tarnmoor-install'];
const truth = truthOf<MergedTruth>('tarnmoor-merged');
const project = readArrival(names);
const readings = project.source?.readings ?? [];
const inInstall = (cell: string) => `[tarnmoor-install.xlsx]${cell}`;

function fixtureOf({ patch, install }: MergedTruth['fixtures'][number], from: Project) {
  return from.fixtures.find((fixture) => {
    const rows = new Map(originsOf(fixture).map(({ file, row }) => [file, row]));
    return rows.get(0) === patch?.row && rows.get(1) === install?.row;
  });
}

/** What is otherwise on purpose. */
const onPurpose = new Map<string, Value>([
  // Its type is in conflict, and no type has no footprint.
  ['F-7 footprint', null],
  // TK2 has one mode in the legend.
  ['F-46 mode', 'Extended'],
  ['F-46 footprint', 14],
]);

describe('patch and install sheet', () => {
  it('are one fixture a tag, whichever way it is written', () => {
    expect(project.fixtures).toHaveLength(truth.fixtures.length);
    for (const at of truth.fixtures) expect(fixtureOf(at, project)?.tag).toBeDefined();
    expect(new Set(project.fixtures.map(({ id }) => id)).size).toBe(project.fixtures.length);
  });

  it('fill each other’s blanks, and a contradiction is nobody’s', () => {
    const held = new Held(project);
    const wrong: string[] = [];
    for (const at of truth.fixtures) {
      const fixture = fixtureOf(at, project);
      if (fixture === undefined) continue;
      for (const [key, want] of Object.entries(at)) {
        if (key === 'tag' || key === 'patch' || key === 'install' || !isValue(want)) continue;
        const value = held.of(fixture, key);
        const known = onPurpose.get(`${at.tag} ${key}`);
        if (known === undefined ? !sameValue(value, want) : !sameValue(value, known))
          wrong.push(`${at.tag} ${key}: ${want}, ours ${value}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it.each(truth.conflicts)('$tag: $key is shown at both cells', ({ key, patch, install }) => {
    const at = (cell: string) =>
      readings.filter((r) => r.cell === cell && r.column === key && r.confidence === 'refused');
    const sides = [
      [patch.cell, inInstall(install.cell)],
      [inInstall(install.cell), patch.cell],
    ] as const;
    for (const [cell, other] of sides) {
      expect(at(cell)).toMatchObject([{ value: null }]);
      expect(at(cell)[0]?.note).toContain(other);
    }
    const fixture = project.fixtures.find(({ alsoFrom }) =>
      alsoFrom.some(({ row }) => install.cell.replace(/^\D+/u, '') === String(row)),
    );
    expect(fixture?.unread).toContain(key);
  });

  it('keeps what stands in one file only, and says so', () => {
    const notes = readings.filter(({ cell }) => cell.endsWith('.xlsx')).map(({ note }) => note);
    for (const tag of [...truth.onlyInPatch, ...truth.onlyInInstall])
      expect(notes.some((note) => note.includes(tag))).toBe(true);
    const alone = project.fixtures.filter((fixture) => originsOf(fixture).length === 1);
    expect(alone.map(({ tag }) => tag)).toEqual([...truth.onlyInPatch, ...truth.onlyInInstall]);
  });

  it('asks before tags are matched by letters and number, and for the base of either file', () => {
    const asked = project.source?.questions.map(({ id, file, chosen }) => [id, file, chosen]);
    expect(asked).toContainEqual(['tag-match', 1, 'alike']);
    expect(asked).toContainEqual(['universe-base', 0, '0']);
    expect(asked).toContainEqual(['universe-base', 1, '1']);
  });
});

function answered(change: Partial<ImportAnswers>): Project {
  const answers = project.source?.answers;
  if (answers === undefined) throw new Error('no source');
  return readArrival(names, { answers: { ...answers, ...change } });
}

const byPatchRow = (from: Project, row: number): Fixture | undefined =>
  from.fixtures.find(({ origin }) => origin?.file === 0 && origin.row === row);

describe('what the engineer answers', () => {
  it('exact: nothing is matched that is not written the same', () => {
    const next = answered({ questions: [{ id: 'tag-match', file: 1, value: 'exact' }] });
    expect(next.fixtures).toHaveLength(45 + 43);
    expect(next.fixtures.every(({ alsoFrom }) => alsoFrom.length === 0)).toBe(true);
    const question = next.source?.questions.find(({ id }) => id === 'tag-match');
    expect(question).toMatchObject({ chosen: 'exact', answered: true });
  });

  it('one of two cells left blank settles the contradiction', () => {
    const first = answered({ cells: [{ cell: 'Patch!B8', raw: 'TK1', text: null }] });
    expect(byPatchRow(first, 8)).toMatchObject({ type: 'TK2', unread: [] });
    const cell = inInstall('Install!B12');
    const second = answered({ cells: [{ cell, raw: 'TK2', text: null }] });
    expect(byPatchRow(second, 8)).toMatchObject({ type: 'TK1', unread: [] });
  });

  it('the base of the patch: 1 refuses universe 0 and moves the others', () => {
    const next = answered({ questions: [{ id: 'universe-base', file: 0, value: '1' }] });
    // Written 0.1, and the install sheet has no label for it.
    expect(byPatchRow(next, 2)).toMatchObject({ universe: null, address: null });
    expect(next.source?.sheets.map(({ universeBase }) => universeBase)).toEqual([1, 1]);
  });
});
