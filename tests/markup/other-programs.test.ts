/**
 * Marked-up workbooks in other programs: LibreOffice, with the results kept in the file and with all of
 * them worked out anew, and openpyxl. The workbooks of tests/files/arrivals and rich travel in
 * tests/travel; here are the demo, the second job and the rich ones of three writers.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findProgram, findPythonWith } from '../house/need.ts';
import { openInLibreOffice, type Sheets } from '../travel/open-elsewhere.ts';
import { bytesOf, markedUp, projectOf, readBytes } from './jobs.ts';

const soffice = findProgram('soffice') ?? findProgram('libreoffice');
const python = findPythonWith('openpyxl');

const jobs: ReadonlyMap<string, string> = new Map([
  ['demo', '../../src-main/demo/foxglove-roundhouse'],
  ['second-job', 'second-job/thistlemere-aqueduct'],
  ['xw', 'xw'],
  ['lo', 'lo'],
  ['op1904', 'op1904'],
]);
const names = [...jobs.keys()];
const headers = new Map<string, ReadonlyMap<string, number>>();
let folder = '';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'runledger-markup-'));
  for (const [name, path] of jobs) {
    const bytes = bytesOf(path);
    const marked = await markedUp(bytes, `${name}.xlsx`, projectOf(bytes, `${name}.xlsx`));
    writeFileSync(join(folder, `${name}-was.xlsx`), bytes);
    writeFileSync(join(folder, `${name}-is.xlsx`), marked.bytes);
    headers.set(name, new Map(readBytes(bytes, name).sheets.map((s) => [s.name, s.rows.length])));
  }
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.skipIf(soffice === null)('needs LibreOffice', () => {
  const opened = new Map<boolean, Map<string, Sheets>>();
  beforeAll(() => {
    const files = names.flatMap((name) => [`${name}-was`, `${name}-is`]);
    for (const anew of [false, true]) {
      opened.set(anew, openInLibreOffice(soffice ?? '', folder, files, anew));
    }
  }, 600_000);

  test.each(names)('%s: every cell of the engineer shows what it showed', (name) => {
    for (const anew of [false, true]) {
      const [was, is] = [`${name}-was`, `${name}-is`].map((file) => opened.get(anew)?.get(file));
      expect(was?.size).toBeGreaterThan(0);
      for (const [sheet, rows] of was ?? []) {
        const now = is?.get(sheet) ?? [];
        rows.forEach((cells, r) => {
          cells.forEach((cell, c) => {
            // An empty one may lie under a column of ours.
            if (cell !== '') expect([sheet, r, c, now[r]?.[c]]).toEqual([sheet, r, c, cell]);
          });
        });
      }
    }
  });

  test.each(names)('%s: no stored result of ours is wrong', (name) => {
    const was = opened.get(false)?.get(`${name}-was`);
    const [kept, anew] = [false, true].map((one) => opened.get(one)?.get(`${name}-is`));
    expect([...(kept?.keys() ?? [])]).toEqual(expect.arrayContaining(['Findings', 'Runs']));
    for (const [sheet, rows] of kept ?? []) {
      // On a sheet of the engineer's a result may have been wrong before.
      if (was?.has(sheet) === true) continue;
      expect(anew?.get(sheet)).toEqual(rows);
    }
  });
});

const script = `
import json, sys, warnings, openpyxl
warnings.simplefilter("ignore")
book = openpyxl.load_workbook(sys.argv[1])
names = book.defined_names
names = list(names) if hasattr(names, "keys") else [n.name for n in names.definedName]
json.dump(dict(sheets=book.sheetnames, names=names,
    notes=[c.comment.text for s in book.worksheets for r in s.iter_rows() for c in r if c.comment]), sys.stdout)
`;

describe.skipIf(python === null)('needs openpyxl', () => {
  test.each(names)('loads %s, with its sheets, our sheets and our notes', (name) => {
    const run = spawnSync(python ?? '', ['-c', script, join(folder, `${name}-is.xlsx`)], {
      encoding: 'utf8',
      maxBuffer: 2 ** 28,
    });
    if (run.status !== 0) throw new Error(run.stderr);
    const found: { sheets: string[]; names: string[]; notes: string[] } = JSON.parse(run.stdout);
    expect(found.sheets).toEqual(expect.arrayContaining([...(headers.get(name)?.keys() ?? [])]));
    expect(found.sheets.some((sheet) => /^Findings(, Runledger)?$/u.test(sheet))).toBe(true);
    expect(found.names).toEqual(
      expect.arrayContaining(['Runledger.columns.1', 'Runledger.sheet.Findings']),
    );
    expect(found.notes.some((note) => /^[SBWN?] [a-z ]+: /u.test(note))).toBe(true);
  });
});
