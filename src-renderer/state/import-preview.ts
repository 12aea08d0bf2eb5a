/** The source sheets as the preview shows them, and which of them is shown. */
import { computed, signal } from '@preact/signals';
import type { Reading } from '../../src-shared/document/project.ts';
import {
  type PreviewSheet,
  previewSheets,
} from '../../src-shared/exchange/preview/preview-sheet.ts';
import { CellFinder, type CellPlace } from '../../src-shared/exchange/schedule/cell-place.ts';
import type { LengthUnit } from '../../src-shared/units/length.ts';
import { project } from './document-store.ts';
import type { SheetKey } from './import-answer-edits.ts';
import { books } from './import-books.ts';
import { showReadValue } from './reading-words.ts';

const source = computed(() => project.value?.source ?? null);
const fixtures = computed(() => project.value?.fixtures ?? []);

/** All sheets of all files; null: the files are not at hand. */
export const previews = computed<readonly PreviewSheet[] | null>(() => {
  const at = books.value;
  const from = source.value;
  if (at === null || from === null) return null;
  return previewSheets(
    at.map(({ workbook }) => workbook),
    from,
    fixtures.value,
  );
});

const chosen = signal<SheetKey | null>(null);

/** The sheet shown: the chosen one while it is there, else the first that is read. */
export const shownPreview = computed<PreviewSheet | null>(() => {
  const all = previews.value ?? [];
  const key = chosen.value;
  const wanted = all.find(({ file, sheet }) => file === key?.file && sheet === key?.sheet);
  return wanted ?? all.find(({ read }) => read) ?? all[0] ?? null;
});

export function showSheet({ file, sheet }: SheetKey): void {
  chosen.value = { file, sheet };
}

const finder = computed(() => {
  const files = source.value?.files ?? [];
  return new CellFinder(
    (books.value ?? []).map(({ workbook }, file) => ({
      fileName: files[file]?.fileName ?? workbook.fileName,
      sheets: workbook.sheets,
    })),
  );
});

/** Where a cell of the report stands; null: it is about a file as a whole, or the files are not at hand. */
export function findCell(name: string): CellPlace | null {
  return finder.value.find(name);
}

/** What to say of a cell that gave rise to no reading: a cell that was not read never sounds as if it was. */
export function wordsWithoutReading(name: string): string {
  const place = findCell(name);
  if (place === null) return 'Nothing had to be decided.';
  const sheet = previews.value?.find((s) => s.file === place.file && s.sheet === place.sheet);
  if (sheet === undefined || !sheet.read) return 'Nothing was noted here.';
  const kind = sheet.rows.find(({ row }) => row === place.row)?.outcome.kind ?? 'not-read';
  if (kind === 'header') return 'A header: what its column is read as stands over the column.';
  if (kind !== 'fixture') return 'Not read: its row became no fixture.';
  const columnId = sheet.columns.find(({ column }) => column === place.column)?.columnId ?? null;
  return columnId === null
    ? 'Not read: its column is carried along.'
    : 'Read plainly; nothing had to be decided.';
}

const readingsByCell = computed(() => {
  const found = new Map<string, Reading[]>();
  for (const reading of source.value?.readings ?? []) {
    const list = found.get(reading.cell);
    if (list === undefined) found.set(reading.cell, [reading]);
    else list.push(reading);
  }
  return found;
});

/** Letters and figures alone: what tells two texts apart. */
const bare = (text: string): string => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');

/**
 * What a cell was read as for its column, where its own text does not say it: a ditto mark, a blank
 * of a merged area, volt-amperes. Null: the text says it, or nothing was read.
 */
export function readBeside(
  cell: string,
  columnId: string | null,
  raw: string,
  unit: LengthUnit,
): string | null {
  const all = readingsByCell.value.get(cell) ?? [];
  const [reading, ...more] = all.filter(({ column }) => column === columnId);
  if (reading === undefined || more.length > 0 || reading.value === null) return null;
  const shown = showReadValue(reading, unit);
  return bare(shown).startsWith(bare(raw)) && bare(raw) !== '' ? null : shown;
}

/** What a reading gave; a header has no value: the column it was read as says it. */
export function readAsWords(reading: Reading, unit: LengthUnit): string {
  const { cell, column, value } = reading;
  if (value !== null) return showReadValue(reading, unit);
  const place = findCell(cell);
  const sheet = source.value?.sheets.find(
    ({ file, sheet: name }) => file === place?.file && name === place.sheet,
  );
  const isHeader = place !== null && sheet !== undefined && place.row <= sheet.headerRow;
  if (!isHeader) return place === null ? '' : 'nothing';
  return column === null ? '' : 'this column';
}
