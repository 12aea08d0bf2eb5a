import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { strToU8, zipSync } from 'fflate';
import { afterAll, describe, expect, test } from 'vitest';
import { packProject } from '../../src-main/projects/pack-project.ts';
import { MOST_SOURCES } from '../../src-main/projects/project-parts.ts';
import {
  isProjectFile,
  packedLabel,
  unpackProject,
} from '../../src-main/projects/unpack-project.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { readProject, writeProject } from '../../src-shared/format/project-json.ts';
import { anyProject } from '../format/arbitrary-project.ts';
import { sampleProject } from '../format/sample-project.ts';
import { findPythonWith } from '../house/need.ts';
import { sampleFile, sampleSource, sampleText, secondSource } from './sample-file.ts';

const folder = mkdtempSync(join(tmpdir(), 'runledger-pack-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('load after save is the identity, for the project and the bytes of its source', () => {
  const name = fc.oneof(
    fc.string({ unit: 'binary' }),
    fc.constantFrom('', '../../x.csv', 'a\\b.csv'),
  );
  const source = fc.record({ name, bytes: fc.uint8Array({ maxLength: 300 }) });
  const sources = fc.array(source, { maxLength: MOST_SOURCES });
  fc.assert(
    fc.property(anyProject, sources, (project, given) => {
      const projectText = writeProject(project);
      const packed = packProject({ projectText, sources: given, appVersion: '0.1.0' });
      const unpacked = unpackProject(packed, 'x.runledger');
      expect(unpacked).toMatchObject({ ok: true, projectText, migrated: false });
      if (!unpacked.ok) return;
      expect(unpacked.project).toEqual(project);
      expect(unpacked.sources).toHaveLength(given.length);
      given.forEach(({ bytes }, place) => {
        const got = unpacked.sources[place];
        expect(Buffer.compare(got?.bytes ?? Buffer.of(), bytes)).toBe(0);
        expect(got?.name).not.toMatch(/[\\/]/);
      });
      expect(packProject({ projectText, sources: given, appVersion: '0.1.0' })).toEqual(packed);
    }),
    { seed: 20_111, numRuns: 120 },
  );
});

test('a workbook goes in as it is and comes out as it was, with its name', () => {
  const unpacked = unpackProject(sampleFile(), 'x.runledger');
  expect(unpacked).toMatchObject({
    ok: true,
    project: sampleProject,
    sources: [{ name: 'larkspur.xlsx' }],
  });
  expect(unpacked.ok && unpacked.sources[0]?.bytes).toEqual(sampleSource.bytes);
});

test('several workbooks stay in order, also when two have the same name', () => {
  const twins = [secondSource, { ...sampleSource, name: secondSource.name }];
  const unpacked = unpackProject(sampleFile(twins), 'x.runledger');
  expect(unpacked.ok && unpacked.sources).toEqual(twins);
});

test('the reader of schedules tells a project from a workbook', () => {
  expect(readSourceFile(sampleFile(), 'renamed.xlsx')).toEqual({ ok: true, kind: 'project' });
  expect(isProjectFile(sampleFile())).toBe(true);
  expect(isProjectFile(sampleSource.bytes)).toBe(false);
  expect(isProjectFile(new Uint8Array())).toBe(false);
});

test('only a recovery copy says what it is a copy of', () => {
  const content = { projectText: sampleText, sources: [], appVersion: '0.1.0' };
  expect(packedLabel(packProject({ ...content, label: 'Larkspur' }))).toBe('Larkspur');
  expect(packedLabel(packProject(content))).toBeNull();
  expect(packedLabel(new Uint8Array(40))).toBeNull();
});

describe('files of every version that was ever written', () => {
  const old = new URL('../files/project/', import.meta.url);
  const names = readdirSync(old).filter((name) => name.endsWith('.runledger'));
  test('there is one at least', () => expect(names).not.toEqual([]));
  test.each(names)('%s still opens', (name) => {
    const unpacked = unpackProject(new Uint8Array(readFileSync(new URL(name, old))), name);
    // tests/format says what the document of each version holds.
    const version = name.slice(0, 4);
    const document = readFileSync(new URL(`${version}-every-field.json`, old), 'utf8');
    const read = readProject(document);
    expect(unpacked).toMatchObject({ ok: true, project: read.ok && read.project });
    // Version 1 of the file held one workbook at most.
    const held = version === '0001' ? [sampleSource] : [sampleSource, secondSource];
    expect(unpacked.ok && unpacked.sources).toEqual(held);
  });
});

describe('what is refused', () => {
  const zip = (parts: Record<string, string>) =>
    zipSync(Object.fromEntries(Object.entries(parts).map(([name, text]) => [name, strToU8(text)])));
  const head = (version: number) =>
    JSON.stringify({ format: 'runledger-file', version, app: '9', surprise: 1, parts: [] });
  test.each([
    ['a newer file', zip({ 'runledger.json': head(3) }), 'newer-version', /version 3.*up to 2/],
    ['a head of another form', zip({ 'runledger.json': head(1) }), 'damaged', /table of contents/],
    ['a head that is no JSON', zip({ 'runledger.json': '{' }), 'damaged', /table of contents/],
    ['a head of another program', zip({ 'runledger.json': '{}' }), 'damaged', /table of contents/],
    ['another zip file', zip({ 'a.txt': 'x' }), 'not-a-project', /not a Runledger project/],
    ['no zip file at all', strToU8('Mark,Load'), 'cut-off', /cut off/],
    ['nothing', new Uint8Array(), 'cut-off', /cut off/],
  ])('%s', (_name, bytes, code, words) => {
    const unpacked = unpackProject(bytes, 'job.runledger');
    expect(unpacked).toMatchObject({ ok: false, reason: { code } });
    if (!unpacked.ok) {
      expect(unpacked.reason.what).toMatch(words);
      expect(unpacked.reason.where).toMatch(/job\.runledger/);
      expect(unpacked.reason.todo).not.toBe('');
    }
  });
  test('a document inside that is newer, with the part it stands in', () => {
    const projectText = sampleText.replace('"version":2', '"version":3');
    const packed = packProject({ projectText, sources: [], appVersion: '9' });
    expect(unpackProject(packed, 'job.runledger')).toMatchObject({
      ok: false,
      reason: { code: 'newer-version', where: 'job.runledger, part project.json, version' },
    });
  });
  test('a part put in place of another, sums of the container in order', () => {
    const entries = { 'project.json': strToU8(sampleText.replace('F-01', 'F-02')) };
    const held = sampleFile([]);
    // The manifest of the true file, the project of another.
    const manifest = JSON.parse(manifestOf(held));
    const forged = zipSync({ 'runledger.json': strToU8(JSON.stringify(manifest)), ...entries });
    expect(unpackProject(forged, 'job.runledger')).toMatchObject({
      ok: false,
      reason: { code: 'damaged', where: 'job.runledger, part project.json' },
    });
  });
  test('one that unpacks to more than is taken in, before it is unpacked', () => {
    const huge = zipSync({ 'runledger.json': new Uint8Array(101_000_000) }, { level: 1 });
    expect(huge.length).toBeLessThan(1_000_000);
    const start = performance.now();
    expect(unpackProject(huge, 'x.runledger')).toMatchObject({ reason: { code: 'too-large' } });
    expect(performance.now() - start).toBeLessThan(500);
  });
});

function manifestOf(bytes: Uint8Array): string {
  const at = Buffer.from(bytes);
  const size = at.readUInt32LE(18);
  const start = 30 + at.readUInt16LE(26) + at.readUInt16LE(28);
  return inflateRawSync(at.subarray(start, start + size)).toString();
}

// Outside reader of the container: zipfile and hashlib of the Python standard library.
const python = findPythonWith('zipfile');
describe.skipIf(!python)('needs python3: another reader of zip files', () => {
  test('finds the same parts, sums in order, and the digests the manifest states', () => {
    const path = join(folder, 'sample.runledger');
    writeFileSync(path, sampleFile());
    const script = `
import hashlib, json, sys, zipfile
z = zipfile.ZipFile(sys.argv[1])
assert z.testzip() is None
m = json.loads(z.read('runledger.json'))
print(json.dumps([z.namelist(), [[p['name'], p['bytes'] == len(z.read(p['name'])), p['sha256'] == hashlib.sha256(z.read(p['name'])).hexdigest()] for p in m['parts']], z.read('project.json').decode('utf-8')]))
`;
    const said = JSON.parse(execFileSync(python ?? '', ['-c', script, path]).toString());
    expect(said).toEqual([
      ['runledger.json', 'project.json', 'source/1/larkspur.xlsx'],
      [
        ['project.json', true, true],
        ['source/1/larkspur.xlsx', true, true],
      ],
      sampleText,
    ]);
  });
});
