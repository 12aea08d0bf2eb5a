import { effect, untracked } from '@preact/signals';
import { createGrid, type GridApi, type GridOptions } from 'ag-grid-community';
import { useEffect, useRef } from 'preact/hooks';
import type { PreviewSheet } from '../../../src-shared/exchange/preview/preview-sheet.ts';
import { gridBase } from '../../grid/grid-base.ts';
import { printable } from '../../grid/print-layout.ts';
import { connection } from '../../host/connection.ts';
import { lengthUnit, project } from '../../state/document-store.ts';
import { readCellAs } from '../../state/import-acts.ts';
import { nameOf } from '../../state/import-cell-place.ts';
import { focusAsked, type ImportHand, importHand } from '../../state/import-hand.ts';
import { actOnHand } from '../../state/import-hand-acts.ts';
import { findCell, readBeside } from '../../state/import-preview.ts';
import { hush } from '../../state/notice.ts';
import { lineNote } from '../../state/view-state.ts';
import { updateHeld } from './held-rows.ts';
import { gridColumnId, previewColumns, sheetColumnOf } from './preview-columns.ts';
import { type PreviewAct, PreviewKeys } from './preview-keys.ts';
import { chooseRows, type HeldRow, idOfRow, type RowChoice, sameRow } from './preview-rows.ts';

const headHeight = 54;
const help =
  'Type to have the cell read as that · Delete leaves it blank · Ctrl+Enter accepts · Alt+Enter takes the offer · Ctrl+Backspace as in the file';

/** Enter or F2 on a header goes into its choice; Esc comes back. */
function enterHeader(event: KeyboardEvent): void {
  const { target } = event;
  if (!(target instanceof HTMLElement) || !target.classList.contains('ag-header-cell')) return;
  if (!['Enter', 'F2', ' '].includes(event.key)) return;
  const select = target.querySelector('select');
  if (select === null) return;
  event.preventDefault();
  event.stopPropagation();
  select.focus();
}

/** The grid over one sheet; lives as long as the sheet is shown. */
class PreviewGridHost {
  private held: readonly HeldRow[] = [];
  private sheet: PreviewSheet;
  private columnsTold: string;
  private readings: unknown = project.peek()?.source?.readings ?? null;
  private marked: { readonly row: string; readonly colId: string } | null = null;
  private readonly api: GridApi<HeldRow>;
  private readonly stops: (() => void)[] = [];

  constructor(
    private readonly element: HTMLElement,
    sheet: PreviewSheet,
    choice: RowChoice,
  ) {
    this.sheet = sheet;
    this.columnsTold = JSON.stringify(sheet.columns);
    this.held = this.update(choice).held;
    this.api = createGrid(element, this.options());
    this.stops.push(printable(this.api));
    // Drawing reads signals too: only another hand moves the sheet, never another answer.
    this.stops.push(
      effect(() => {
        const hand = importHand.value;
        untracked(() => this.follow(hand));
      }),
    );
    this.stops.push(effect(() => this.focusIfAsked()));
    element.addEventListener('keydown', enterHeader, true);
    this.stops.push(() => element.removeEventListener('keydown', enterHeader, true));
  }

  destroy(): void {
    this.api.stopEditing();
    for (const stop of this.stops) stop();
    this.api.destroy();
  }

  /** Shows the sheet as it is now: only what changed is painted. */
  show(sheet: PreviewSheet, choice: RowChoice): void {
    const told = JSON.stringify(sheet.columns);
    this.sheet = sheet;
    if (told !== this.columnsTold) {
      this.columnsTold = told;
      this.api.setGridOption('columnDefs', this.columns());
    }
    const { held, moved, changed } = this.update(choice);
    this.held = held;
    if (moved) this.replaceRows();
    // A reading may have another value though its cell says the same: rows in the window are few.
    const readings = project.peek()?.source?.readings ?? null;
    const reread = readings !== this.readings;
    this.readings = readings;
    const nodes = this.api.getRenderedNodes();
    const rowNodes = nodes.filter(({ id }) => id !== undefined && (reread || changed.has(id)));
    if (rowNodes.length > 0) this.api.refreshCells({ force: true, rowNodes });
  }

  private update(choice: RowChoice) {
    return updateHeld(this.held, chooseRows(this.sheet.rows, choice), idOfRow, sameRow);
  }

  /** The hand stays where it was, or on the row that moved up. */
  private replaceRows(): void {
    const focused = this.api.getFocusedCell();
    const inside = this.element.contains(document.activeElement);
    this.api.setGridOption('rowData', [...this.held]);
    if (focused === null || !inside || this.held.length === 0) return;
    const rowIndex = Math.min(focused.rowIndex, this.held.length - 1);
    this.api.setFocusedCell(rowIndex, focused.column);
  }

  private columns() {
    return previewColumns(this.sheet, {
      isMarked: (row, colId) => this.marked?.row === row && this.marked.colId === colId,
      besideOf: (held, column, raw) => {
        const cell = this.cellOf(held, gridColumnId(column));
        const columnId = this.sheet.columns[column]?.columnId ?? null;
        if (cell === null || columnId === null) return null;
        return readBeside(cell, columnId, raw, lengthUnit.peek());
      },
    });
  }

  private options(): GridOptions<HeldRow> {
    const { nonce } = connection();
    const keys = new PreviewKeys((act) => this.act(act));
    return {
      ...gridBase<HeldRow>(nonce, (params) => keys.take(params)),
      headerHeight: headHeight,
      rowData: [...this.held],
      columnDefs: this.columns(),
      getRowId: ({ data }) => data.id,
      ensureDomOrder: true,
      suppressScrollOnNewData: true,
      overlayNoRowsTemplate: '<span>No row of this kind.</span>',
      onCellEditRequest: ({ data, column, newValue }) => {
        const text = String(newValue ?? '').trim();
        const cell = this.cellOf(data, column.getColId());
        if (cell === null) return;
        hush();
        void readCellAs(cell, text === '' ? null : text);
      },
      onCellFocused: ({ rowIndex, column }) => {
        if (rowIndex === null || column === null || typeof column === 'string') return;
        const data = this.api.getDisplayedRowAtIndex(rowIndex)?.data;
        if (data === undefined) return;
        this.takeHand(data, column.getColId());
      },
    };
  }

  private cellOf({ row }: HeldRow, colId: string): string | null {
    const column = sheetColumnOf(colId);
    const files = project.peek()?.source?.files;
    if (column === null || files === undefined) return null;
    const { file, sheet } = this.sheet;
    return nameOf({ file, sheet, row: row.row, column }, files);
  }

  private act(act: PreviewAct): void {
    // The grid tells of a new focus a moment later than of a key.
    const at = this.api.getFocusedCell();
    const held = at === null ? undefined : this.api.getDisplayedRowAtIndex(at.rowIndex)?.data;
    if (at !== null && held !== undefined) this.takeHand(held, at.column.getColId());
    if (act === 'to-report') focusAsked.value = 'report';
    else actOnHand(act);
  }

  private takeHand(held: HeldRow, colId: string): void {
    const cell = this.cellOf(held, colId);
    lineNote.value = cell === null ? held.row.outcome.text : help;
    if (cell !== null) importHand.value = { cell, readingKey: null };
  }

  /** Brings the cell at hand into view and marks it; the focus stays where it is. */
  private follow(hand: ImportHand | null): void {
    const place = hand === null ? null : findCell(hand.cell);
    const here = place?.file === this.sheet.file && place.sheet === this.sheet.sheet;
    const before = this.marked;
    this.marked =
      place === null || !here
        ? null
        : { row: String(place.row), colId: gridColumnId(place.column) };
    if (this.marked !== null) this.bringIntoView(this.marked);
    const nodes = [before?.row, this.marked?.row].flatMap((id) =>
      id === undefined ? [] : (this.api.getRowNode(id) ?? []),
    );
    if (nodes.length > 0) this.api.refreshCells({ force: true, rowNodes: nodes });
  }

  private bringIntoView({ row, colId }: { readonly row: string; readonly colId: string }): void {
    const node = this.api.getRowNode(row);
    if (node === undefined || node.rowIndex === null) return;
    this.api.ensureNodeVisible(node);
    this.api.ensureColumnVisible(colId);
  }

  private focusIfAsked(): void {
    if (focusAsked.value !== 'preview') return;
    queueMicrotask(() => {
      focusAsked.value = null;
      const at = this.marked;
      const node = at === null ? undefined : this.api.getRowNode(at.row);
      const rowIndex = node?.rowIndex ?? 0;
      this.api.setFocusedCell(rowIndex, at?.colId ?? gridColumnId(0));
    });
  }
}

export interface PreviewGridProps {
  readonly sheet: PreviewSheet;
  readonly choice: RowChoice;
}

/** The source sheet itself: rows and columns as in the file, with what was made of them. */
export function PreviewGrid({ sheet, choice }: PreviewGridProps) {
  const place = useRef<HTMLDivElement>(null);
  const host = useRef<PreviewGridHost | null>(null);
  useEffect(() => {
    if (place.current === null) return;
    const made = new PreviewGridHost(place.current, sheet, choice);
    host.current = made;
    return () => {
      host.current = null;
      made.destroy();
    };
  }, []);
  useEffect(() => host.current?.show(sheet, choice), [sheet, choice]);
  return (
    <section
      class="grid-place preview-place"
      aria-label={`Sheet ${sheet.sheet} as in the file`}
      ref={place}
    />
  );
}
