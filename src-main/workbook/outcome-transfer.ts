import type {
  MergedArea,
  SourceCell,
  SourceRow,
  SourceSheet,
  SourceWorkbook,
} from '../../src-shared/document/source-workbook.ts';
import type { ReadOutcome } from './read-file.ts';

/*
 * The way of an outcome from the worker to the host: one JSON text with the cells as short lists,
 * since many small objects cross the border slowly.
 */

/** Column, kind, value; then, only where they say more: text, formula, note, struck. */
type PackedCell = readonly [
  column: number,
  kind: number,
  value: SourceCell['value'],
  text?: string | 0,
  formula?: string | 0,
  note?: string | 0,
  struck?: 1,
];
type PackedRow = readonly [number: number, hidden: 0 | 1, cells: readonly PackedCell[]];

interface PackedSheet {
  readonly name: string;
  readonly hidden: boolean;
  readonly rows: readonly PackedRow[];
  readonly merges: readonly MergedArea[];
}

type PackedOutcome =
  | Exclude<ReadOutcome, { kind: 'workbook' }>
  | {
      readonly ok: true;
      readonly kind: 'workbook';
      readonly workbook: Omit<SourceWorkbook, 'sheets'>;
      readonly sheets: readonly PackedSheet[];
    };

const KINDS = ['text', 'number', 'boolean', 'date', 'error'] as const;

function packCell(cell: SourceCell): PackedCell {
  const { column, value, text, formula, note, struck } = cell;
  const kind = KINDS.indexOf(cell.kind);
  const shown = text === String(value) ? 0 : text;
  if (formula === undefined && note === undefined && struck === undefined) {
    return shown === 0 ? [column, kind, value] : [column, kind, value, shown];
  }
  const head = [column, kind, value, shown, formula ?? 0, note ?? 0] as const;
  return struck ? [...head, 1] : head;
}

function unpackCell(packed: PackedCell): SourceCell {
  const [column, kind, value, text = 0, formula = 0, note = 0, struck] = packed;
  const cell: { -readonly [Key in keyof SourceCell]: SourceCell[Key] } = {
    column,
    text: text === 0 ? String(value) : text,
    value,
    kind: KINDS[kind] ?? 'text',
  };
  if (formula !== 0) cell.formula = formula;
  if (note !== 0) cell.note = note;
  if (struck === 1) cell.struck = true;
  return cell;
}

function packSheet(sheet: SourceSheet): PackedSheet {
  const rows = sheet.rows.map((row): PackedRow => {
    return [row.number, row.hidden ? 1 : 0, row.cells.map(packCell)];
  });
  return { ...sheet, rows };
}

function unpackSheet(packed: PackedSheet): SourceSheet {
  const rows = packed.rows.map(([number, hidden, cells]): SourceRow => {
    return { number, hidden: hidden === 1, cells: cells.map(unpackCell) };
  });
  return { name: packed.name, hidden: packed.hidden, rows, merges: packed.merges };
}

/** An outcome as one JSON text. */
export function packOutcome(outcome: ReadOutcome): string {
  if (!outcome.ok || outcome.kind !== 'workbook') return JSON.stringify(outcome);
  const { sheets, ...workbook } = outcome.workbook;
  const packed: PackedOutcome = {
    ok: true,
    kind: 'workbook',
    workbook,
    sheets: sheets.map(packSheet),
  };
  return JSON.stringify(packed);
}

/** The outcome that `packOutcome` was given. For text of our own worker only: it is not checked. */
export function unpackOutcome(text: string): ReadOutcome {
  const packed = JSON.parse(text) as PackedOutcome;
  if (!packed.ok || packed.kind !== 'workbook') return packed;
  const sheets = packed.sheets.map(unpackSheet);
  return { ok: true, kind: 'workbook', workbook: { ...packed.workbook, sheets } };
}
