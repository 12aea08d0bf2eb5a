/**
 * What was answered in the import report is written, so that the file says it too. Files and what is
 * wrong in them: tests/files/arrivals, made by other writers.
 */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { markUpWorkbook } from '../../src-main/workbook/patch/mark-up-workbook.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import type { CellAnswer, Project } from '../../src-shared/document/project.ts';
import { columnLetters, type SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';

function bytesOf(name: string): Uint8Array {
  return new Uint8Array(readFileSync(new URL(`../files/arrivals/${name}.xlsx`, import.meta.url)));
}

function bookOf(bytes: Uint8Array, name: string): SourceWorkbook {
  const read = readSourceFile(bytes, `${name}.xlsx`);
  if (!read.ok || read.kind !== 'workbook') throw new Error(`${name} was not read`);
  return read.workbook;
}

function read(names: readonly string[], cells: readonly CellAnswer[]): Project {
  const books = names.map((name) => bookOf(bytesOf(name), name));
  const schedule = readSchedule(books, { answers: { ...noAnswers, cells } });
  if (!schedule.ok) throw new Error(schedule.refusal.what);
  return schedule.project;
}

async function marked(name: string, project: Project, file: number): Promise<SourceWorkbook> {
  const out = await markUpWorkbook(bytesOf(name), `${name}.xlsx`, project, { file });
  if (!out.ok) throw new Error(out.reason.what);
  return bookOf(out.bytes, name);
}

function at(book: SourceWorkbook, sheet: string, cell: string) {
  const [, letters = '', row = ''] = /^([A-Z]+)(\d+)$/u.exec(cell) ?? [];
  const rows = book.sheets.find(({ name }) => name === sheet)?.rows ?? [];
  const cells = rows.find(({ number }) => number === Number(row))?.cells ?? [];
  return cells.find(({ column }) => columnLetters(column) === letters);
}

it.each([
  ['a formula without a stored result', 'selkie-forecourt-rev-c', 'Rev C', 'H27', '=3.5*12', '42'],
  ['a ditto mark under a blank', 'meridew-tower-crown', 'L41', 'G11', '〃', '46'],
])('%s, answered with what it seems to say', async (_what, name, sheet, cell, raw, text) => {
  const cellName = /\s/u.test(sheet) ? `'${sheet}'!${cell}` : `${sheet}!${cell}`;
  const first = read([name], []);
  const refused = first.source?.readings.find((reading) => reading.cell === cellName);
  expect(refused?.confidence).toBe('refused');
  const project = read([name], [{ cell: cellName, raw: refused?.raw ?? raw, text }]);
  const book = await marked(name, project, 0);
  expect(at(book, sheet, cell)).toMatchObject({ value: Number(text) });
  const again = readSchedule(book, {});
  if (!again.ok) throw new Error(again.refusal.what);
  const lost = again.project.fixtures.filter(({ id, loadW }) => {
    return loadW !== (project.fixtures.find((fixture) => fixture.id === id)?.loadW ?? null);
  });
  expect(lost).toEqual([]);
});

it('the cell of two that was overruled says what the job says, with what it had', async () => {
  const names = ['tarnmoor-patch', 'tarnmoor-install'];
  const before = read(names, []);
  const disputed = (column: string) =>
    before.source?.readings.find(
      (reading) =>
        reading.cell.startsWith('[tarnmoor-install.xlsx]') &&
        reading.column === column &&
        reading.confidence === 'refused',
    );
  const type = disputed('type');
  if (type === undefined) throw new Error('no contradiction of types');
  const project = read(names, [{ cell: type.cell, raw: type.raw, text: null }]);
  const cell = type.cell.slice(type.cell.lastIndexOf('!') + 1);
  const book = await marked('tarnmoor-install', project, 1);
  const found = at(book, 'Install', cell);
  expect(type.raw).toBe('TK2');
  expect(found?.value).toBe('TK1');
  expect(found?.note).toContain('TK2');
});
