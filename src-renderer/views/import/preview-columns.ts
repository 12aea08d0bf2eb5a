/** Columns of the preview grid: row number, what became of the row, then the sheet's own. */
import type { ColDef } from 'ag-grid-community';
import type { PreviewSheet } from '../../../src-shared/exchange/preview/preview-sheet.ts';
import { TextEditor } from '../../grid/text-editor.ts';
import { ColumnChoice } from './column-choice.ts';
import { looksWords } from './confidence-mark.tsx';
import type { HeldRow } from './preview-rows.ts';
import { OutcomeView, PreviewView, type PreviewViewParams } from './preview-view.ts';

export const rowNumberId = 'row-number';
export const outcomeId = 'outcome';

/** Id of a sheet's column in the grid. */
export const gridColumnId = (column: number): string => `c${column}`;

/** Zero-based sheet column of a grid column; null for ours. */
export function sheetColumnOf(colId: string): number | null {
  const found = /^c(\d+)$/u.exec(colId)?.[1];
  return found === undefined ? null : Number(found);
}

export interface PreviewLook {
  /** True for the cell the report has under hand. */
  readonly isMarked: (rowId: string, colId: string) => boolean;
  readonly besideOf: PreviewViewParams['besideOf'];
}

const [least, most, perSign, around] = [88, 240, 6.6, 30];
/** Signs a mark and what a cell was read as take beside its text. */
const markRoom = 9;

/** A width that shows nearly all texts of a column: those of its fixtures where the sheet is read. */
function widthOf({ rows, read }: PreviewSheet, column: number): number {
  const lengths: number[] = [];
  for (const { texts, outcome, cells } of rows.slice(0, 160)) {
    if (read && outcome.kind !== 'fixture') continue;
    const text = texts.get(column) ?? '';
    const marked = cells.has(column);
    if (text !== '' || marked) lengths.push(text.length + (marked ? markRoom : 0));
  }
  lengths.sort((a, b) => a - b);
  const usual = lengths[Math.floor(lengths.length * 0.9)] ?? 0;
  return Math.min(most, Math.max(least, Math.round(usual * perSign) + around));
}

function shownText(held: HeldRow | undefined, column: number): string {
  const cell = held?.row.cells.get(column);
  return cell?.answered === true && cell.text !== undefined
    ? cell.text
    : (held?.row.texts.get(column) ?? '');
}

function sheetColumn(sheet: PreviewSheet, place: number, look: PreviewLook): ColDef<HeldRow> {
  const shown = sheet.columns[place];
  const column = shown?.column ?? place;
  const colId = gridColumnId(column);
  return {
    colId,
    headerName: shown?.header ?? shown?.letters ?? '',
    headerComponent: ColumnChoice,
    headerComponentParams: { shown },
    suppressHeaderKeyboardEvent: ({ event }) => event.target instanceof HTMLSelectElement,
    initialWidth: widthOf(sheet, column),
    editable: true,
    valueGetter: ({ data }) => shownText(data, column),
    cellRenderer: PreviewView,
    cellRendererParams: { column, besideOf: look.besideOf },
    cellEditor: TextEditor,
    cellEditorParams: {
      startText: ({ data }: { readonly data: HeldRow }) => shownText(data, column),
    },
    tooltipValueGetter: ({ data }) => {
      const cell = data?.row.cells.get(column);
      return cell === undefined ? null : `${looksWords(cell)}: ${cell.note}`;
    },
    cellClass: ({ data }) => {
      const cell = data?.row.cells.get(column);
      const kind = data?.row.outcome.kind ?? 'not-read';
      return [
        `row-${kind}`,
        ...(shown?.columnId === null && kind === 'fixture' ? ['column-carried'] : []),
        ...(cell === undefined ? [] : [`read-${cell.confidence}`]),
        ...(cell?.answered === true ? ['cell-answered'] : []),
        ...(cell?.accepted === true ? ['cell-accepted'] : []),
        ...(data !== undefined && look.isMarked(data.id, colId) ? ['cell-marked'] : []),
      ];
    },
  };
}

/** Columns of a sheet in order. The row's number and outcome stay at the left. */
export function previewColumns(sheet: PreviewSheet, look: PreviewLook): ColDef<HeldRow>[] {
  return [
    {
      colId: rowNumberId,
      headerName: 'Row',
      initialWidth: sheet.rows.some(({ hidden }) => hidden) ? 86 : 58,
      pinned: 'left',
      headerClass: 'figures plain-header',
      cellClass: 'figures row-number',
      valueGetter: ({ data }) =>
        data === undefined ? '' : `${data.row.hidden ? 'hidden ' : ''}${data.row.row}`,
    },
    {
      colId: outcomeId,
      headerName: 'Became',
      initialWidth: 142,
      pinned: 'left',
      headerClass: 'plain-header',
      cellRenderer: OutcomeView,
      valueGetter: ({ data }) => data?.row.outcome.text ?? '',
      tooltipValueGetter: ({ data }) => data?.row.outcome.text ?? null,
    },
    ...sheet.columns.map((_, place) => sheetColumn(sheet, place, look)),
  ];
}
