import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { findCircle, houseRoot, importsOf, readHouse, type SourceFile } from './import-graph.ts';
import { brokenRules, layers } from './import-rules.ts';

const folders = ['src-shared', 'src-main', 'src-renderer', 'tests'];
const house = readHouse(houseRoot, folders);

/** A house of invented files, to see each rule bite. */
function invented(texts: Readonly<Record<string, string>>): SourceFile[] {
  const known = new Set(Object.keys(texts));
  return Object.entries(texts).map(([path, text]) => importsOf(path, text, known));
}

const made = new Set(['.git', 'node_modules', 'out', 'test-report']);

/** Top-level names that git tracks; null where there is no git. A user's own file beside them is no fault. */
function committedNames(): string[] | null {
  const git = spawnSync('git', ['ls-files'], { cwd: houseRoot, encoding: 'utf8' });
  if (git.status !== 0 || git.stdout === '') return null;
  return [...new Set(git.stdout.split('\n').flatMap((file) => file.split('/')[0] || []))].filter(
    (name) => !made.has(name),
  );
}

describe('the house', () => {
  test('is read whole: every folder has files, and most files import', () => {
    for (const folder of folders) {
      expect(house.filter((f) => f.path.startsWith(`${folder}/`)).length).toBeGreaterThan(10);
    }
    expect(house.flatMap((f) => f.imports).length).toBeGreaterThan(house.length);
  });

  test('no import leads nowhere', () => {
    const lost = house
      .flatMap((file) => file.imports)
      .filter(({ to }) => to !== null && !existsSync(join(houseRoot, to)));
    expect(lost.map((edge) => `${edge.from}:${edge.line} ${edge.specifier}`)).toEqual([]);
  });

  test('no circle, types counted', () => {
    expect(findCircle(house)).toBeNull();
  });

  test('no upward import, no import across areas, no package where it does not belong, no barrel', () => {
    expect(brokenRules(house)).toEqual([]);
  });
});

describe('the rules bite', () => {
  const wrong = (path: string, text: string, other = 'src-shared/units/x.ts') =>
    brokenRules(invented({ [path]: text, [other]: 'export const x = 1;' }));

  test.each([
    ['import', "import { x } from '../limits/x.ts'; export const y = x;"],
    ['import type', "import type { x } from '../limits/x.ts'; export type Y = x;"],
    ['export from', "export { x } from '../limits/x.ts'; export const y = 1;"],
    ['import()', "export const y = () => import('../limits/x.ts');"],
    ['a type import()', "export type Y = typeof import('../limits/x.ts');"],
    ['require()', "export const y = require('../limits/x.ts');"],
    ['a worker', "export const y = new URL('../limits/x.ts', import.meta.url);"],
  ])('an upward import by %s', (_, text) => {
    const found = wrong('src-shared/solve/y.ts', text, 'src-shared/limits/x.ts');
    expect(found).toHaveLength(1);
    expect(found[0]).toContain('solve may not import limits');
  });

  test('document imports units by type only', () => {
    const by = (text: string) => wrong('src-shared/document/y.ts', text);
    expect(by("import { x } from '../units/x.ts'; export const y = x;")).toHaveLength(1);
    expect(by("import type { x } from '../units/x.ts'; export type Y = x;")).toEqual([]);
    expect(by("import { type x } from '../units/x.ts'; export type Y = x;")).toEqual([]);
  });

  test.each(['node:fs', 'fs', 'fs/promises', 'electron', 'exceljs', 'preact', 'jsdom'])(
    'src-shared with %s',
    (name) => {
      expect(
        wrong('src-shared/solve/y.ts', `import a from '${name}'; export const y = a;`),
      ).toEqual([expect.stringContaining('src-shared may not use')]);
    },
  );

  test('a file of src-shared outside every layer', () => {
    expect(
      wrong('src-shared/misc/y.ts', "import { x } from '../units/x.ts'; export const y = x;"),
    ).toHaveLength(1);
  });

  test('window and host apart, product code without tests', () => {
    const text = (to: string) => `import { x } from '../../${to}'; export const y = x;`;
    for (const [from, to] of [
      ['src-renderer/state/y.ts', 'src-main/services/x.ts'],
      ['src-main/services/y.ts', 'src-renderer/state/x.ts'],
      ['src-shared/solve/y.ts', 'src-main/services/x.ts'],
      ['src-shared/solve/y.ts', 'tests/limits/x.ts'],
      ['src-main/services/y.ts', 'tests/limits/x.ts'],
    ] as const) {
      expect(wrong(from, text(to), to)).toHaveLength(1);
    }
    const down = 'src-shared/units/x.ts';
    expect(wrong('src-renderer/state/y.ts', text(down))).toEqual([]);
    expect(
      wrong('tests/limits/y.ts', text('src-main/services/x.ts'), 'src-main/services/x.ts'),
    ).toEqual([]);
  });

  test('exceljs and electron only where they belong; the window without Node', () => {
    const using = (path: string, name: string) =>
      wrong(path, `import a from '${name}'; export const y = a;`).length;
    expect(using('src-main/workbook/read-file.ts', 'exceljs')).toBe(1);
    expect(using('src-main/workbook/write-workbook.ts', 'exceljs')).toBe(0);
    expect(using('src-main/services/y.ts', 'electron')).toBe(1);
    expect(using('src-main/electron/main.ts', 'electron')).toBe(0);
    expect(using('src-renderer/state/y.ts', 'node:path')).toBe(1);
    expect(using('src-main/services/y.ts', 'node:path')).toBe(0);
  });

  test('barrels, circles, missing extensions, computed imports', () => {
    const barrel = wrong('src-shared/solve/y.ts', "export { x } from '../units/x.ts';");
    expect(barrel).toEqual(['src-shared/solve/y.ts only re-exports']);
    const passedOn = "import { x } from '../units/x.ts'; export { x };";
    expect(wrong('src-shared/solve/y.ts', passedOn)).toHaveLength(1);
    expect(
      wrong('src-shared/solve/y.ts', "import { x } from '../units/x'; export const y = x;"),
    ).toEqual([expect.stringContaining('carries no extension')]);
    expect(
      wrong('src-main/services/y.ts', 'export const y = (n: string) => import(n);'),
    ).toHaveLength(1);
    const circle = invented({
      'src-shared/units/a.ts': "import type { B } from './b.ts'; export type A = B;",
      'src-shared/units/b.ts': "import type { C } from './c.ts'; export type B = C;",
      'src-shared/units/c.ts': "import type { A } from './a.ts'; export type C = A;",
    });
    expect(findCircle(circle)).toHaveLength(4);
  });
});

describe('shape', () => {
  /** Made by tools and not committed. */
  const topLevel = [
    '.ci',
    '.gitignore',
    'DEVELOPERS.md',
    'LICENSE',
    'README.md',
    'biome.json',
    'electron.vite.config.ts',
    'package-lock.json',
    'package.json',
    'src-main',
    'src-renderer',
    'src-shared',
    'tests',
    'tsconfig.json',
  ];

  test('the top level holds what it should and nothing else', () => {
    const found = committedNames() ?? readdirSync(houseRoot).filter((name) => !made.has(name));
    expect(found.sort()).toEqual([...topLevel].sort());
  });

  test('src-shared has its layers and nothing beside them', () => {
    const inside = readdirSync(join(houseRoot, 'src-shared'));
    expect(inside.filter((name) => name !== 'tsconfig.json').sort()).toEqual([...layers].sort());
  });

  test('names are kebab-case, files are small: 90 % under 300 lines', () => {
    const ours = house.filter((file) => !file.path.startsWith('tests/'));
    const odd = house.map((f) => f.path).filter((path) => !/^[a-z0-9./-]+$/.test(path));
    expect(odd).toEqual([]);
    const lines = (path: string) => readFileSync(join(houseRoot, path), 'utf8').split('\n').length;
    const large = ours.filter((file) => lines(file.path) > 300);
    expect(large.length).toBeLessThanOrEqual(0.1 * ours.length);
  });
});
