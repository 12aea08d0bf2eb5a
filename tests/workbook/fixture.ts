import { readFileSync } from 'node:fs';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import type { FileRefusal } from '../../src-main/workbook/refusal.ts';
import type { SourceSheet, SourceWorkbook } from '../../src-shared/document/source-workbook.ts';

const FOLDER = new URL('../files/workbook/', import.meta.url);

/** Bytes of a file of tests/files/workbook. */
export function fixtureBytes(name: string): Uint8Array {
  return new Uint8Array(readFileSync(new URL(name, FOLDER)));
}

/** A JSON file of tests/files/workbook. */
export function fixtureJson(name: string): unknown {
  return JSON.parse(readFileSync(new URL(name, FOLDER), 'utf8'));
}

/** The workbook read from bytes; throws with the refusal when there is none. */
export function workbookOf(bytes: Uint8Array, name = 'test.xlsx'): SourceWorkbook {
  const outcome = readSourceFile(bytes, name);
  if (outcome.ok && outcome.kind === 'workbook') return outcome.workbook;
  throw new Error(`not read: ${JSON.stringify(outcome)}`);
}

/** The refusal got from bytes; throws when they were read. */
export function refusalOf(bytes: Uint8Array, name = 'test.xlsx'): FileRefusal {
  const outcome = readSourceFile(bytes, name);
  if (!outcome.ok) return outcome.refusal;
  throw new Error('read, though it should have been refused');
}

/** Shown texts of a sheet by row, empty cells as ''. */
export function shownGrid(sheet: SourceSheet | undefined): string[][] {
  const grid: string[][] = [];
  for (const row of sheet?.rows ?? []) {
    const line: string[] = [];
    for (const cell of row.cells) {
      while (line.length < cell.column) line.push('');
      line.push(cell.text);
    }
    grid[row.number - 1] = line;
  }
  return Array.from(grid, (line) => line ?? []);
}
