import { expect, test } from 'vitest';
import {
  type MenuEntry,
  type MenuFacts,
  menuTemplate,
  recentLabels,
} from '../../src-main/shell/menu-template.ts';
import { windowCommands } from '../../src-shared/contract/window-commands.ts';

const facts = (platform: NodeJS.Platform): MenuFacts => ({
  platform,
  commands: new Set(windowCommands),
  recent: [],
  developing: false,
});
const all = (entries: readonly MenuEntry[]): MenuEntry[] =>
  entries.flatMap((entry) => [entry, ...all(entry.entries ?? [])]);

test.each(['linux', 'win32', 'darwin'] as const)(
  'on %s every command stands once, under a key of its own, and the program can be ended',
  (platform) => {
    const entries = all(menuTemplate(facts(platform)));
    const commands = entries.flatMap(({ command }) => command ?? []);
    expect([...commands].sort()).toEqual([...windowCommands].sort());
    const keys = entries.flatMap(({ accelerator }) => accelerator ?? []);
    expect(new Set(keys).size).toBe(keys.length);
    expect(entries.filter(({ role }) => role === 'quit')).toHaveLength(1);
    expect(entries.filter(({ kind, label }) => kind === 'command' && !label)).toEqual([]);
  },
);

test('under development it can be reloaded and looked into, else not', () => {
  const roles = (developing: boolean) =>
    all(menuTemplate({ ...facts('linux'), developing })).flatMap(({ role }) => role ?? []);
  expect(roles(true)).toEqual(expect.arrayContaining(['reload', 'toggleDevTools']));
  expect(roles(false)).not.toContain('reload');
});

test('recent files: none, some, two of the same name', () => {
  const submenu = (recent: MenuFacts['recent']) =>
    all(menuTemplate({ ...facts('linux'), recent })).find(({ label }) => label === 'Open recent');
  expect(submenu([])?.enabled).toBe(false);
  const labels = recentLabels([
    { fileId: 'a', name: 'x.xlsx', folder: '/one' },
    { fileId: 'b', name: 'x.xlsx', folder: '/two' },
    { fileId: 'c', name: 'y.csv', folder: '/one' },
  ]);
  expect(labels.map(({ label }) => label)).toEqual(['x.xlsx (/one)', 'x.xlsx (/two)', 'y.csv']);
  expect(submenu(labels)).toMatchObject({ enabled: true, entries: labels });
});
