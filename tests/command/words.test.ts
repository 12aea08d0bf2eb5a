/** Words, exit codes and outputs of the check command, as its contract says. */
import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
} from 'node:fs';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { check, cleanUp, readJson, scratch } from './run-check.ts';

afterAll(cleanUp);

const good =
  'Tag,Type,Run,Place,Fed from,Span ft,Load W,PF,Supply V,Home run ft\nA-1,K,R1,1,BOX,10,20,0.95,120,40\nA-2,K,R1,2,A-1,10,20,0.95,,\n';
const broken = good.replaceAll(',20,0.95', ',2000,0.95');
const conductor = ['--conductor', '12AWG'];

describe('exit codes', () => {
  it('0 when nothing is broken, with not-checked allowed', async () => {
    const run = await check(scratch({ 'a.csv': good }), 'a.csv', ...conductor);
    expect(run.code).toBe(0);
    expect(run.stdout).toContain('No limit found broken with the data given;');
    expect(run.stderr).toBe('');
  });

  it('1 when a limit is broken', async () => {
    const run = await check(
      scratch({ 'a.csv': broken }),
      'a.csv',
      ...conductor,
      '--line-rating',
      '10A',
    );
    expect(run.code).toBe(1);
  });

  const wrong: [string, string[], string][] = [
    ['no input', [], 'INPUT'],
    ['two inputs', ['a.csv', 'b.csv'], 'b.csv'],
    ['an unknown option', ['a.csv', '--volts', '3'], '--volts'],
    ['a bare number', ['a.csv', '--home-run', '40'], '--home-run 40'],
    ['a wrong unit', ['a.csv', '--supply', '40ft'], '--supply 40ft'],
    ['a negative value', ['a.csv', '--home-run=-40ft'], '--home-run -40ft'],
    ['an unknown profile', ['a.csv', '--profile', 'mars'], '--profile mars'],
    ['an unknown conductor', ['a.csv', '--conductor', 'thick'], '--conductor thick'],
    ['an option twice', ['a.csv', '--supply', '120V', '--supply', '208V'], '--supply'],
    ['an option without value', ['a.csv', '--json'], '--json'],
    ['an output that is no workbook', ['a.csv', '--out', 'b.csv'], '--out b.csv'],
    ['force without output', ['a.csv', '--force'], '--force'],
    ['a map that is none', ['a.csv', '--map', 'Tag'], '--map Tag'],
    ['a header mapped twice', ['a.csv', '--map', 'Tag=run', '--map', 'Tag=tag'], '--map Tag=tag'],
    ['a map to no column', ['a.csv', '--map', 'Tag=colour'], '--map'],
    ['a sheet that is not there', ['a.csv', '--sheet', 'Other'], '--sheet'],
    ['a header row that is none', ['a.csv', '--header-row', 'x'], '--header-row x'],
    ['both outputs the same', ['a.csv', '--json', 'b.xlsx', '--out', 'b.xlsx'], '--out b.xlsx'],
  ];
  it.each(wrong)('2 for %s: one message that begins with the word', async (_, words, begins) => {
    const folder = scratch({ 'a.csv': good });
    const run = await check(folder, ...words);
    expect(run.code).toBe(2);
    expect(run.stdout).toBe('');
    expect(run.stderr.startsWith(begins)).toBe(true);
    expect(run.stderr.trim().split('\n')).toHaveLength(1);
    expect(readdirSync(folder)).toEqual(['a.csv']);
  });

  const unreadable: [string, string | Uint8Array][] = [
    ['missing.csv', ''],
    ['empty.xlsx', new Uint8Array(0)],
    ['noise.xlsx', new Uint8Array([80, 75, 3, 4, 1, 2, 3])],
    ['prose.csv', 'Dear all,\nplease find the drawings attached.\n'],
    ['header-only.csv', 'Tag,Type,Run\n'],
  ];
  it.each(unreadable)('3 for %s: one message that begins with the file', async (name, content) => {
    const folder = scratch(name === 'missing.csv' ? {} : { [name]: content });
    const run = await check(folder, name, '--json', 'r.json');
    expect(run.code).toBe(3);
    expect(run.stderr.startsWith(name)).toBe(true);
    expect(run.stderr.trim().split('\n')).toHaveLength(1);
    expect(existsSync(path.join(folder, 'r.json'))).toBe(false);
  });

  it('3 for a folder', async () => {
    const folder = scratch({});
    mkdirSync(path.join(folder, 'jobs'));
    const run = await check(folder, 'jobs');
    expect(run.code).toBe(3);
    expect(run.stderr.startsWith('jobs: is a folder')).toBe(true);
  });
});

describe('outputs', () => {
  it('--json - gives JSON and nothing else', async () => {
    const run = await check(scratch({ 'a.csv': good }), 'a.csv', '--json', '-', ...conductor);
    expect(JSON.parse(run.stdout)).toMatchObject({ format: 'runledger-check', version: 1 });
    expect(run.stdout).not.toContain('NaN');
  });

  it('--json FILE replaces its file and leaves standard output empty', async () => {
    const folder = scratch({ 'a.csv': good, 'r.json': 'old' });
    const run = await check(folder, 'a.csv', '--json', 'r.json', ...conductor);
    expect(run.stdout).toBe('');
    expect(readJson(folder, 'r.json').fixtures).toHaveLength(2);
  });

  it('4 for an existing workbook without --force; replaced whole with it', async () => {
    const folder = scratch({ 'a.csv': good, 'b.xlsx': 'old' });
    const refused = await check(
      folder,
      'a.csv',
      '--out',
      'b.xlsx',
      '--json',
      'r.json',
      ...conductor,
    );
    expect(refused.code).toBe(4);
    expect(refused.stderr.startsWith('--out b.xlsx')).toBe(true);
    expect(readFileSync(path.join(folder, 'b.xlsx'), 'utf8')).toBe('old');
    expect(existsSync(path.join(folder, 'r.json'))).toBe(false);
    const done = await check(folder, 'a.csv', '--out', 'b.xlsx', '--force', ...conductor);
    expect(done.code).toBe(0);
    expect(readFileSync(path.join(folder, 'b.xlsx')).subarray(0, 2).toString()).toBe('PK');
    expect(readdirSync(folder).sort()).toEqual(['a.csv', 'b.xlsx']);
  });

  it('never writes over its own input, by any name', async () => {
    const folder = scratch({ 'a.csv': good });
    symlinkSync(path.join(folder, 'a.csv'), path.join(folder, 'same.xlsx'));
    for (const words of [
      ['--json', 'a.csv'],
      ['--json', './a.csv'],
      ['--out', 'same.xlsx', '--force'],
    ]) {
      const run = await check(folder, 'a.csv', ...words, ...conductor);
      expect(run.code).toBe(4);
      expect(run.stderr).toContain('INPUT itself');
    }
    expect(readFileSync(path.join(folder, 'a.csv'), 'utf8')).toBe(good);
  });

  it('writes to a pipe or device instead of replacing it, follows a link, keeps who may read', async () => {
    const folder = scratch({ 'a.csv': good, 'real.json': 'old' });
    chmodSync(path.join(folder, 'real.json'), 0o640);
    symlinkSync(path.join(folder, 'real.json'), path.join(folder, 'link.json'));
    expect((await check(folder, 'a.csv', '--json', 'link.json', ...conductor)).code).toBe(0);
    expect(lstatSync(path.join(folder, 'link.json')).isSymbolicLink()).toBe(true);
    expect(readJson(folder, 'real.json').fixtures).toHaveLength(2);
    expect(statSync(path.join(folder, 'real.json')).mode & 0o777).toBe(0o640);
    const pipe = path.join(folder, 'pipe');
    execFileSync('mkfifo', [pipe]);
    const read = readFile(pipe, 'utf8');
    expect((await check(folder, 'a.csv', '--json', 'pipe', ...conductor)).code).toBe(0);
    expect(JSON.parse(await read)).toMatchObject({ version: 1 });
    expect(lstatSync(pipe).isFIFO()).toBe(true);
  });

  it('4 for a folder that is not there', async () => {
    const folder = scratch({ 'a.csv': good });
    const run = await check(folder, 'a.csv', '--json', 'no/r.json', ...conductor);
    expect(run.code).toBe(4);
    expect(run.stderr.startsWith('--json no/r.json')).toBe(true);
  });
});

describe('limits reached by options', () => {
  it('a breaker too large for the conductor: NEC 240.4(D), from memory, verify in the adopted edition', async () => {
    const folder = scratch({ 'a.csv': good });
    const words = ['--conductor', '14AWG', '--line-rating', '10A', '--breaker'];
    expect((await check(folder, 'a.csv', '--json', 'r.json', ...words, '15A')).code).toBe(0);
    expect((await check(folder, 'a.csv', '--json', 'r.json', ...words, '20A')).code).toBe(1);
    const broken = readJson(folder, 'r.json').findings.filter((f) => f.severity === 'stop');
    expect(broken).toMatchObject([{ limit: 'breaker-over-line', value: 20, allowed: 15 }]);
  });

  it('a run that fits no universe is told so', async () => {
    const csv = 'Tag,Run,Place,Ch\nA-1,R1,1,300\nA-2,R1,2,300\n';
    const folder = scratch({ 'a.csv': csv });
    expect((await check(folder, 'a.csv', '--json', 'r.json')).code).toBe(1);
    const report = readJson(folder, 'r.json');
    expect(report.fixtures[0]).toMatchObject({ universe: null, address: null });
    const breach = report.findings.filter((f) => f.severity === 'breach');
    expect(breach).toMatchObject([{ limit: 'past-512', value: 600, allowed: 512, run: 'R1' }]);
  });
});

describe('options fill blanks only', () => {
  it('what the file says wins, and what was filled is listed', async () => {
    const folder = scratch({ 'a.csv': good });
    await check(
      folder,
      'a.csv',
      '--json',
      'r.json',
      ...conductor,
      '--supply',
      '277V',
      '--breaker',
      '20A',
      '--home-run',
      '99ft',
    );
    const report = readJson(folder, 'r.json');
    expect(report.runs[0]).toMatchObject({ supplyV: 120, homeRunM: 40 * 0.3048 });
    const from = report.assumptions.filter((a) => a.from.startsWith('option'));
    expect(from.map((a) => a.from)).toEqual(
      expect.arrayContaining(['option --breaker', 'option --conductor']),
    );
    expect(from.map((a) => a.from)).not.toContain('option --supply');
    expect(from.map((a) => a.from)).not.toContain('option --home-run');
  });

  it('a cell that could not be read is no blank', async () => {
    const folder = scratch({ 'a.csv': good.replace(',120,40', ',mains,far') });
    const run = await check(
      folder,
      'a.csv',
      '--json',
      'r.json',
      ...conductor,
      '--supply',
      '277V',
      '--home-run',
      '99ft',
    );
    expect(run.code).toBe(0);
    const report = readJson(folder, 'r.json');
    expect(report.runs[0]).toMatchObject({ supplyV: null, homeRunM: null, solved: null });
    expect(report.input.readings.map((r) => r.confidence)).toEqual(['refused', 'refused']);
  });

  it('deleting a power factor, watts or the supply leaves the run unsolved and not checked', async () => {
    for (const gone of [
      good.replace(',0.95,,', ',,,'),
      good.replace(',20,0.95,,', ',,0.95,,'),
      good.replace(',120,40', ',,40'),
    ]) {
      const folder = scratch({ 'a.csv': gone });
      const run = await check(
        folder,
        'a.csv',
        '--json',
        'r.json',
        ...conductor,
        '--line-rating',
        '10A',
      );
      expect(run.code).toBe(0);
      const report = readJson(folder, 'r.json');
      expect(report.runs[0]?.solved).toBeNull();
      const limits = report.findings
        .filter((f) => f.severity === 'not-checked')
        .map((f) => f.limit);
      expect(limits).toEqual(
        expect.arrayContaining([
          'missing-value',
          'line-rating',
          'branch-drop',
          'no-operating-point',
        ]),
      );
    }
  });
});
