import { expect, test } from 'vitest';
import { findBrowser, type Machine } from '../../src-main/loopback/find-browser.ts';
import { readStartWords } from '../../src-main/start/start-words.ts';

const plain = {
  file: null,
  demo: false,
  open: true,
  browser: false,
  portFile: null,
  help: false,
};

test.each([
  [[], plain],
  [['job.csv'], { ...plain, file: 'job.csv' }],
  [['--demo', '--no-open'], { ...plain, demo: true, open: false }],
  [['--port-file', 'p.json', 'a b.xlsx'], { ...plain, portFile: 'p.json', file: 'a b.xlsx' }],
  [['--port-file=p.json'], { ...plain, portFile: 'p.json' }],
  [['--', '--demo'], { ...plain, file: '--demo' }],
  [['-h'], { ...plain, help: true }],
  [['--browser'], { ...plain, browser: true }],
  [['--no-fetch', 'job.csv'], { ...plain, file: 'job.csv' }],
])('%j is understood', (argv, words) => {
  expect(readStartWords(argv)).toEqual({ ok: true, words });
});

test.each([
  [['--nope'], /^--nope: no such option/],
  [['-x'], /^-x: no such option/],
  [['a.csv', 'b.csv'], /^b\.csv: only one file/],
  [['--port-file'], /^--port-file: a path must follow/],
  [['--port-file='], /^--port-file: a path must follow/],
  [['--demo', 'a.csv'], /^--demo: cannot go with a file/],
])('%j is refused by one sentence that begins with the word', (argv, message) => {
  const read = readStartWords(argv);
  expect(read.ok ? '' : read.message).toMatch(message);
});

const address = 'http://127.0.0.1:5/enter?key=x';
const machine = (part: Partial<Machine>, has: readonly string[]): Machine => ({
  platform: 'linux',
  env: { PATH: '/usr/bin', DISPLAY: ':0' },
  isRoot: false,
  exists: (path) => has.includes(path),
  ...part,
});

test('a Chromium gets a window of its own; the sandbox stays on but for root, which is said', () => {
  const found = findBrowser(machine({}, ['/usr/bin/chromium', '/usr/bin/xdg-open']), address);
  const words = [`--app=${address}`];
  expect(found).toEqual({ ok: true, start: { program: '/usr/bin/chromium', words, note: null } });
  const root = findBrowser(machine({ isRoot: true }, ['/usr/bin/chromium']), address);
  expect(root).toMatchObject({ start: { words: ['--no-sandbox', ...words] } });
  expect(root.ok && root.start.note).toMatch(/without its sandbox/);
});

test('else the system opens the address in what it has', () => {
  expect(findBrowser(machine({}, ['/usr/bin/xdg-open']), address)).toMatchObject({
    start: { program: '/usr/bin/xdg-open', words: [address] },
  });
  const mac = machine({ platform: 'darwin', env: {} }, []);
  expect(findBrowser(mac, address)).toMatchObject({ start: { program: 'open', words: [address] } });
  const windows = machine({ platform: 'win32', env: { SystemRoot: 'C:\\Windows' } }, []);
  expect(findBrowser(windows, address)).toMatchObject({
    start: { words: [expect.any(String), address] },
  });
});

test('without a display or a browser it says which', () => {
  const dark = machine({ env: { PATH: '/usr/bin' } }, ['/usr/bin/chromium']);
  expect(findBrowser(dark, address)).toEqual({
    ok: false,
    why: 'There is no display to open a browser on.',
  });
  expect(findBrowser(machine({}, []), address)).toEqual({
    ok: false,
    why: 'No browser was found on this machine.',
  });
});
