import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { blankFixture } from '../../src-shared/document/blank.ts';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import type { Project } from '../../src-shared/document/project.ts';
import {
  PROJECT_VERSION,
  readProject,
  readProjectWith,
  writeProject,
} from '../../src-shared/format/project-json.ts';
import { sampleProject } from './sample-project.ts';

/** What the sample held when version 1 was written: one sheet of one file, no answers kept. */
const sampleOfVersion1: Project = {
  ...sampleProject,
  fixtures: sampleProject.fixtures.map((fixture) => ({ ...fixture, alsoFrom: [] })),
  source: {
    files: [{ fileName: 'larkspur.xlsx' }],
    sheets: (sampleProject.source?.sheets ?? []).slice(0, 1),
    columns: sampleProject.source?.columns ?? [],
    readings: (sampleProject.source?.readings ?? []).map(({ offer: _offer, ...rest }) => rest),
    questions: [],
    answers: {
      ...noAnswers,
      sheets: [{ file: 0, sheet: 'Schedule' }],
      headerRows: [{ file: 0, sheet: 'Schedule', row: 6 }],
    },
  },
};

const sampleText = writeProject(sampleProject);
const folder = new URL('../files/project/', import.meta.url);

function reasonFor(text: string) {
  const read = readProject(text);
  if (read.ok) throw new Error('read, though it should have been refused');
  return read.reason;
}

/** The sample as plain JSON with something changed. */
function altered(
  change: (file: Record<string, unknown>, project: Record<string, unknown>) => void,
) {
  const file = JSON.parse(sampleText);
  change(file, file.project);
  return JSON.stringify(file);
}

test('the head says format and version, and the text ends its line', () => {
  expect(
    sampleText.startsWith('{"format":"runledger-project","version":2,"project":{"name":'),
  ).toBe(true);
  expect(sampleText.endsWith('}\n')).toBe(true);
});

describe('files of every version that was ever written', () => {
  const names = readdirSync(folder).filter((name) => name.endsWith('.json'));
  test('there is at least one a version', () => {
    for (let version = 1; version <= PROJECT_VERSION; version += 1) {
      const start = String(version).padStart(4, '0');
      expect(names.some((name) => name.startsWith(start))).toBe(true);
    }
  });
  test.each(names)('%s still opens', (name) => {
    const text = readFileSync(new URL(name, folder), 'utf8');
    const read = readProject(text);
    expect(read).toMatchObject({ ok: true, migrated: !name.startsWith('0002') });
    expect(read.ok && read.project).toEqual(
      name.startsWith('0001') ? sampleOfVersion1 : sampleProject,
    );
  });
});

describe('what is refused', () => {
  test('text that is cut or is not JSON', () => {
    for (const text of ['', 'Mark;Load', sampleText.slice(0, -2), '['.repeat(1_000_000)]) {
      expect(reasonFor(text).code).toBe('not-json');
    }
  });
  test('JSON of something else', () => {
    for (const text of [
      'null',
      '[]',
      '1',
      '"x"',
      '{}',
      '{"format":"runledger-check","version":1}',
    ]) {
      expect(reasonFor(text).code).toBe('not-a-project');
    }
  });
  test('a version that is no version', () => {
    for (const version of [0, -1, 1.5, '1', null]) {
      expect(reasonFor(altered((file) => Object.assign(file, { version }))).code).toBe(
        'not-a-project',
      );
    }
  });
  test('a newer version, with both versions and what to do', () => {
    const reason = reasonFor(altered((file) => Object.assign(file, { version: 3 })));
    expect(reason).toMatchObject({ code: 'newer-version', where: 'version' });
    expect(reason.what).toMatch(/version 3.*up to 2/);
    expect(reason.todo).toMatch(/newer Runledger/);
  });
  test('any field that is missing, of another kind, or too many, with its place', () => {
    const visit = (value: unknown, path: readonly (string | number)[]): void => {
      if (typeof value !== 'object' || value === null) return;
      for (const key of Object.keys(value)) {
        const inner = [...path, Array.isArray(value) ? Number(key) : key];
        const at = (project: Record<string, unknown>) =>
          path.reduce<Record<string | number, unknown>>(
            (held, step) => held[step] as Record<string | number, unknown>,
            project,
          );
        const wrong = altered((_, project) => {
          at(project)[key] = { surprise: 1 };
        });
        expect(reasonFor(wrong).code).toBe('bad-value');
        expect(reasonFor(wrong).where.startsWith('project.')).toBe(true);
        if (!Array.isArray(value) && path.at(-1) !== 'differing' && key !== 'offer') {
          const less = altered((_, project) => {
            delete at(project)[key];
          });
          expect(reasonFor(less).code).toBe('bad-value');
        }
        visit((value as Record<string, unknown>)[key], inner);
      }
      if (!Array.isArray(value)) {
        const more = altered((_, project) => {
          const held = path.reduce<Record<string | number, unknown>>(
            (deep, step) => deep[step] as Record<string | number, unknown>,
            project,
          );
          held.unheardOf = 1;
        });
        expect(reasonFor(more).code).toBe('bad-value');
      }
    };
    visit(sampleProject, []);
  });
  test('the place is told as a person would look for it', () => {
    const text = altered((_, project) => {
      const [fixture] = project.fixtures as Record<string, unknown>[];
      Object.assign(fixture ?? {}, { loadW: '87W' });
    });
    expect(reasonFor(text)).toMatchObject({ where: 'project.fixtures[0].loadW' });
  });
});

describe('keys and references', () => {
  const [fixture] = sampleProject.fixtures;
  const [run] = sampleProject.runs;
  const cases: readonly [string, Partial<Project>, RegExp][] = [
    ['a fixture on no run', { runs: [] }, /Fixture "F-01" is on run "F1"/],
    ['a run on no circuit', { circuits: [] }, /Run "F1" is on circuit "c1"/],
    ['a run twice', { runs: run ? [run, run] : [] }, /"F1" stands in runs twice/],
    [
      'a fixture id twice',
      { fixtures: fixture ? [fixture, fixture] : [] },
      /"f1" stands in fixtures/,
    ],
    ['a type twice', { types: [...sampleProject.types, ...sampleProject.types] }, /"LF1"/],
    ['a line twice', { lines: [...sampleProject.lines, ...sampleProject.lines] }, /"L25"/],
    [
      'a supply twice',
      { supplies: [...sampleProject.supplies, ...sampleProject.supplies] },
      /"DB-1"/,
    ],
    [
      'a circuit twice',
      { circuits: [...sampleProject.circuits, ...sampleProject.circuits] },
      /"c1"/,
    ],
  ];
  test.each(cases)('%s is a reason', (_name, part, words) => {
    const reason = reasonFor(writeProject({ ...sampleProject, ...part }));
    expect(reason.code).toBe('bad-reference');
    expect(reason.what).toMatch(words);
  });
  test('a tag may stand twice: that is a finding, not a fault of the file', () => {
    const twin = { ...blankFixture('f2'), tag: 'F-01' };
    const project = { ...sampleProject, fixtures: [...sampleProject.fixtures, twin] };
    expect(readProject(writeProject(project)).ok).toBe(true);
  });
});

describe('keys that name the prototype', () => {
  test.each(['__proto__', 'constructor', 'prototype'])('%s changes nothing', (key) => {
    for (const text of [
      sampleText.replace('{"name":', `{"${key}":{"polluted":1},"name":`),
      sampleText.replace('{"format":', `{"${key}":{"polluted":1},"format":`),
      sampleText.replace('"differing":{', `"differing":{"${key}":{"polluted":1},`),
    ]) {
      expect(text).not.toBe(sampleText);
      readProject(text);
      expect(({} as Record<string, unknown>).polluted).toBeUndefined();
      expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false);
    }
  });
});

describe('the chain of migrations', () => {
  const step = (from: number, migrate: (project: unknown) => unknown) => ({
    from,
    what: '',
    migrate,
  });
  const rename = (name: string) => (project: unknown) => ({ ...(project as object), name });

  const ofVersion = (version: number) => altered((file) => Object.assign(file, { version }));

  test('steps run in order from the version of the file to the present one', () => {
    const seen: number[] = [];
    const steps = [1, 2, 3].map((from) =>
      step(from, (project) => {
        seen.push(from);
        return rename(`after ${from}`)(project);
      }),
    );
    const read = readProjectWith(ofVersion(1), steps);
    expect(read).toMatchObject({ ok: true, migrated: true, project: { name: 'after 3' } });
    expect(seen).toEqual([1, 2, 3]);
    const third = readProjectWith(
      altered((file) => Object.assign(file, { version: 3 })),
      steps,
    );
    expect(third).toMatchObject({ ok: true, migrated: true });
    expect(seen).toEqual([1, 2, 3, 3]);
    const present = readProjectWith(
      altered((file) => Object.assign(file, { version: 4 })),
      steps,
    );
    expect(present).toMatchObject({ ok: true, migrated: false });
    const newer = readProjectWith(
      altered((file) => Object.assign(file, { version: 5 })),
      steps,
    );
    expect(newer).toMatchObject({ ok: false, reason: { code: 'newer-version' } });
  });
  test('a step that fails, is missing or leaves rubbish is a reason', () => {
    const failing = step(1, () => {
      throw new TypeError('inside');
    });
    const read = readProjectWith(ofVersion(1), [failing]);
    expect(read).toMatchObject({ ok: false, reason: { code: 'bad-migration' } });
    expect(JSON.stringify(read)).not.toMatch(/inside/);
    const missing = readProjectWith(ofVersion(1), [step(7, rename('x'))]);
    expect(missing).toMatchObject({ ok: false, reason: { code: 'bad-migration' } });
    const rubbish = readProjectWith(ofVersion(1), [step(1, () => 7)]);
    expect(rubbish).toMatchObject({ ok: false, reason: { code: 'bad-value' } });
  });
});
