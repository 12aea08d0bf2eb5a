/** Small workbooks as a reader would hand them over. */

import { noAnswers } from '../../src-shared/document/import-answers.ts';
import type { ImportAnswers, Project, Reading } from '../../src-shared/document/project.ts';
import type {
  MergedArea,
  SourceCell,
  SourceRow,
  SourceSheet,
  SourceWorkbook,
} from '../../src-shared/document/source-workbook.ts';
import {
  type ReadOptions,
  type ReadResult,
  readSchedule,
} from '../../src-shared/exchange/read-schedule.ts';

/** A cell: text, number, nothing, or a part of what a reader says. */
export type CellInput = string | number | boolean | null | Partial<SourceCell>;

function cellOf(input: CellInput, column: number): SourceCell | null {
  if (input === null || input === '') return null;
  if (typeof input === 'string') return { column, text: input, value: input, kind: 'text' };
  if (typeof input === 'number')
    return { column, text: String(input), value: input, kind: 'number' };
  if (typeof input === 'boolean') {
    return { column, text: input ? 'TRUE' : 'FALSE', value: input, kind: 'boolean' };
  }
  return { column, text: '', value: input.text ?? null, kind: 'text', ...input };
}

export interface SheetInput {
  readonly name?: string;
  readonly hidden?: boolean;
  readonly merges?: readonly MergedArea[];
  readonly hiddenRows?: readonly number[];
  readonly filteredRows?: readonly number[];
  readonly hiddenColumns?: readonly number[];
}

/** Rows count from 1; a row of nothing is left out, as the readers do. */
export function sheetOf(
  rows: readonly (readonly CellInput[])[],
  input: SheetInput = {},
): SourceSheet {
  const made = rows.flatMap((cells, index): SourceRow[] => {
    const filled = cells.flatMap((cell, column) => cellOf(cell, column) ?? []);
    const number = index + 1;
    const filtered = input.filteredRows?.includes(number) ?? false;
    const hidden = filtered || (input.hiddenRows?.includes(number) ?? false);
    const row = { number, hidden, cells: filled, ...(filtered ? { filtered: true as const } : {}) };
    return filled.length === 0 ? [] : [row];
  });
  return {
    name: input.name ?? 'Schedule',
    hidden: input.hidden ?? false,
    rows: made,
    merges: input.merges ?? [],
    ...(input.hiddenColumns === undefined ? {} : { hiddenColumns: input.hiddenColumns }),
  };
}

/** Answers for cells: name, what stands there, text to read instead (null: blank). */
export function answersFor(
  ...cells: readonly (readonly [cell: string, raw: string, text: string | null])[]
): ImportAnswers {
  return { ...noAnswers, cells: cells.map(([cell, raw, text]) => ({ cell, raw, text })) };
}

export function workbookOf(...sheets: readonly SourceSheet[]): SourceWorkbook {
  return { kind: 'xlsx', fileName: 'job.xlsx', sheets, remarks: [] };
}

/** A further file of an import. */
export function fileOf(fileName: string, ...sheets: readonly SourceSheet[]): SourceWorkbook {
  return { kind: 'xlsx', fileName, sheets, remarks: [] };
}

type Read = Extract<ReadResult, { ok: true }>;

/** Reads a workbook that must be readable. */
export function readBook(
  book: SourceWorkbook | readonly SourceWorkbook[],
  options: ReadOptions = {},
): Read {
  const result = readSchedule(book, options);
  if (!result.ok) throw new Error(`refused: ${JSON.stringify(result.refusal)}`);
  return result;
}

/** Reads one sheet given as rows. */
export function readRowsOf(
  rows: readonly (readonly CellInput[])[],
  input: SheetInput = {},
  options: ReadOptions = {},
): Project {
  return readBook(workbookOf(sheetOf(rows, input)), options).project;
}

export function readingsOf(project: Project): readonly Reading[] {
  return project.source?.readings ?? [];
}

/** The reading of a cell; undefined when it was read plainly. */
export function readingAt(project: Project, cell: string): Reading | undefined {
  return readingsOf(project).find((reading) => reading.cell === cell);
}

export function columnIds(project: Project): Record<string, string | null> {
  return Object.fromEntries((project.source?.columns ?? []).map((c) => [c.header, c.columnId]));
}
