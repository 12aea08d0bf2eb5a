import type {
  SourceCell,
  SourceRow,
  SourceSheet,
  SourceWorkbook,
} from '../../src-shared/document/source-workbook.ts';
import type { ReadOutcome } from './read-file.ts';

/*
 * The way of an outcome from the worker to the host: JSON texts with the cells as short lists, since
 * many small objects cross the border slowly. Rows go in lots, so that neither side holds the whole
 * as text and as objects at once.
 */

type Extras = Omit<SourceCell, 'column' | 'text' | 'value' | 'kind'>;

/** Column, kind, value; then, only where they say more: text, and whatever else the cell has. */
type PackedCell = readonly [
  column: number,
  kind: number,
  value: SourceCell['value'],
  text?: string | 0,
  extras?: Extras,
];
type RowExtras = Omit<SourceRow, 'number' | 'hidden' | 'cells'>;
type PackedRow = readonly [
  number: number,
  hidden: 0 | 1,
  cells: readonly PackedCell[],
  extras?: RowExtras,
];
type SheetHead = Omit<SourceSheet, 'rows'>;

/** The first text: all but the rows. */
type PackedHead =
  | Exclude<ReadOutcome, { kind: 'workbook' }>
  | {
      readonly ok: true;
      readonly kind: 'workbook';
      readonly workbook: Omit<SourceWorkbook, 'sheets'>;
      readonly sheets: readonly SheetHead[];
    };

/** Each further text: rows of one sheet. */
interface PackedRows {
  readonly sheet: number;
  readonly rows: readonly PackedRow[];
}

const KINDS = ['text', 'number', 'boolean', 'date', 'error'] as const;

/** Cells of one lot of rows. */
const LOT_CELLS = 20_000;

const isEmpty = (extras: object): boolean => {
  for (const _ in extras) return false;
  return true;
};

function packCell(cell: SourceCell): PackedCell {
  const { column, value, text, kind: named, ...extras } = cell;
  const kind = KINDS.indexOf(named);
  const shown = text === String(value) ? 0 : text;
  if (!isEmpty(extras)) return [column, kind, value, shown, extras];
  return shown === 0 ? [column, kind, value] : [column, kind, value, shown];
}

function unpackCell(packed: PackedCell): SourceCell {
  const [column, kind, value, text = 0, extras] = packed;
  const cell: SourceCell = {
    column,
    text: text === 0 ? String(value) : text,
    value,
    kind: KINDS[kind] ?? 'text',
  };
  return extras === undefined ? cell : Object.assign(cell, extras);
}

function packRow({ number, hidden, cells, ...extras }: SourceRow): PackedRow {
  const packed = [number, hidden ? 1 : 0, cells.map(packCell)] as const;
  return isEmpty(extras) ? packed : [...packed, extras];
}

function unpackRow([number, hidden, cells, extras]: PackedRow): SourceRow {
  const row: SourceRow = { number, hidden: hidden === 1, cells: cells.map(unpackCell) };
  return extras === undefined ? row : Object.assign(row, extras);
}

/** An outcome as JSON texts, the head first. */
export function* packOutcome(outcome: ReadOutcome): Generator<string> {
  if (!outcome.ok || outcome.kind !== 'workbook') {
    yield JSON.stringify(outcome satisfies PackedHead);
    return;
  }
  const { sheets, ...workbook } = outcome.workbook;
  const heads = sheets.map(({ rows: _, ...head }) => head);
  const head: PackedHead = { ok: true, kind: 'workbook', workbook, sheets: heads };
  yield JSON.stringify(head);
  for (const [sheet, { rows }] of sheets.entries()) {
    for (let at = 0; at < rows.length; ) {
      const lot: PackedRow[] = [];
      for (let cells = 0; at < rows.length && cells < LOT_CELLS; at++) {
        const row = rows[at];
        if (!row) break;
        lot.push(packRow(row));
        cells += row.cells.length + 1;
      }
      yield JSON.stringify({ sheet, rows: lot } satisfies PackedRows);
    }
  }
}

/**
 * The outcome that `packOutcome` was given. For texts of our own worker only: they are not checked.
 * @param texts emptied on the way, to free each lot as it is taken
 */
export function unpackOutcome(texts: string[]): ReadOutcome {
  const head = JSON.parse(texts[0] ?? 'null') as PackedHead;
  if (!head.ok || head.kind !== 'workbook') return head;
  const rows = head.sheets.map((): SourceRow[] => []);
  for (let at = 1; at < texts.length; at++) {
    const lot = JSON.parse(texts[at] ?? 'null') as PackedRows;
    texts[at] = '';
    const into = rows[lot.sheet];
    for (const row of lot.rows) into?.push(unpackRow(row));
  }
  const sheets = head.sheets.map((sheet, at): SourceSheet => ({ ...sheet, rows: rows[at] ?? [] }));
  return { ok: true, kind: 'workbook', workbook: { ...head.workbook, sheets } };
}
