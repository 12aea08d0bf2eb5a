import { effect } from '@preact/signals';
import { createGrid, type GridApi, type GridOptions } from 'ag-grid-community';
import { useEffect, useRef } from 'preact/hooks';
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { cellText } from '../state/cell-text.ts';
import { findingIndex, lengthUnit, onChange, solved } from '../state/document-store.ts';
import { typeIntoCell } from '../state/edit-schedule.ts';
import { lendColumn, shownColumns } from '../state/preferences.ts';
import { showUnderstood, understood } from '../state/reading-line.ts';
import { type GridRow, looseHeadId, updateRows } from '../state/row-model.ts';
import { atHand, goTo } from '../state/view-state.ts';
import { type ClipboardCell, followClipboard } from './cell-clipboard.ts';
import { CellKeys } from './cell-keys.ts';
import { gridBase, oneRowAtHand } from './grid-base.ts';
import { headRowHeight, rowHeight } from './grid-theme.ts';
import { HeadView, refreshHeads } from './head-view.ts';
import { printable } from './print-layout.ts';
import { openRowMenu } from './row-menu.tsx';
import { lineColumnId, scheduleColumns } from './schedule-columns.ts';

export interface ScheduleGridProps {
  readonly nonce: string;
}

/** The grid lives as long as its view; rows are made once and written into. */
class ScheduleGridHost {
  private rows: readonly GridRow[] = [];
  private readonly api: GridApi<GridRow>;
  private readonly stops: (() => void)[] = [];
  private readonly keys = new CellKeys(() => this.api);

  constructor(element: HTMLElement, nonce: string) {
    const session = solved();
    if (session !== null) this.rows = updateRows([], session).rows;
    this.api = createGrid(element, this.options(nonce));
    this.stops.push(printable(this.api));
    followClipboard(element, () => this.cellAtHand());
    this.stops.push(onChange((changes) => this.refresh(changes === 'opened')));
    this.stops.push(effect(() => this.follow()));
    this.stops.push(effect(() => this.showUnits()));
    this.stops.push(effect(() => this.goToAsked()));
  }

  destroy(): void {
    this.api.stopEditing();
    for (const stop of this.stops) stop();
    this.api.destroy();
  }

  private options(nonce: string): GridOptions<GridRow> {
    return {
      ...gridBase<GridRow>(nonce, (params) => this.keys.take(params)),
      rowData: [...this.rows],
      columnDefs: scheduleColumns(shownColumns.peek(), showUnderstood),
      getRowId: ({ data }) => data.id,
      getRowHeight: ({ data }) => (data?.kind === 'head' ? headRowHeight : rowHeight),
      isFullWidthRow: ({ rowNode }) => rowNode.data?.kind === 'head',
      fullWidthCellRenderer: HeadView,
      rowSelection: oneRowAtHand,
      suppressScrollOnNewData: true,
      navigateToNextCell: ({ nextCellPosition, previousCellPosition, event }) => {
        if (nextCellPosition === null) return null;
        const by = event?.key === 'ArrowUp' ? -1 : 1;
        const rowIndex = this.keys.fixtureFrom(nextCellPosition.rowIndex, by);
        return rowIndex === null ? previousCellPosition : { ...nextCellPosition, rowIndex };
      },
      onCellEditRequest: ({ data, column, newValue }) => {
        if (data.kind !== 'fixture') return;
        typeIntoCell(data.id, column.getColId() as ColumnId, String(newValue ?? ''));
      },
      onCellEditingStopped: () => {
        understood.value = null;
      },
      onCellFocused: ({ rowIndex, column }) => {
        if (rowIndex === null || typeof column === 'string' || column === null) return;
        this.takeHand(rowIndex, column.getColId());
      },
      onRowClicked: ({ data }) => {
        if (data?.kind === 'head' && data.run !== null) {
          atHand.value = { fixtureId: null, run: data.run.run.name, column: null };
        }
      },
      onCellContextMenu: ({ data, column, event }) => {
        if (data?.kind !== 'fixture' || !(event instanceof MouseEvent)) return;
        event.preventDefault();
        openRowMenu(data.id, column.getColId() as ColumnId, event.clientX, event.clientY);
      },
      preventDefaultOnContextMenu: true,
    };
  }

  /** The hand stays on its fixture; where that is gone it takes the row that moved up. */
  private keepHand(fixtureId: string, column: ColumnId | null): void {
    if (this.api.getRowNode(fixtureId) !== undefined) {
      this.focus(fixtureId, column, false);
      return;
    }
    const focused = this.api.getFocusedCell();
    const rowIndex = focused === null ? null : this.keys.fixtureFrom(focused.rowIndex, -1);
    if (focused === null || rowIndex === null) {
      atHand.value = { fixtureId: null, run: null, column: null };
      return;
    }
    this.api.setFocusedCell(rowIndex, focused.column);
    this.takeHand(rowIndex, focused.column.getColId());
  }

  private cellAtHand(): ClipboardCell | null {
    const { fixtureId, column } = atHand.peek();
    if (fixtureId === null || column === null || this.api.getEditingCells().length > 0) return null;
    const row = this.api.getRowNode(fixtureId)?.data;
    if (row?.kind !== 'fixture') return null;
    return { fixtureId, column, text: cellText(row, column, lengthUnit.peek()) };
  }

  private takeHand(rowIndex: number, colId: string): void {
    const node = this.api.getDisplayedRowAtIndex(rowIndex);
    const row = node?.data;
    if (row?.kind !== 'fixture') return;
    node?.setSelected(true, true);
    const column = colId === lineColumnId ? null : (colId as ColumnId);
    atHand.value = { fixtureId: row.id, run: row.facts.fixture.run, column };
  }

  /** One refresh of the visible cells that changed; new row data only when rows came, went or moved. */
  private refresh(opened: boolean): void {
    const session = solved();
    if (session === null) return;
    const { rows, moved, changed } = updateRows(
      opened ? [] : this.rows,
      session,
      findingIndex.peek(),
    );
    this.rows = rows;
    if (moved) {
      const { fixtureId, column } = atHand.peek();
      this.api.setGridOption('rowData', [...rows]);
      this.follow();
      this.api.refreshCells({ force: true });
      if (!opened && fixtureId !== null) this.keepHand(fixtureId, column);
    } else {
      const rowNodes = this.api
        .getRenderedNodes()
        .filter(({ id }) => id !== undefined && changed.has(id));
      this.api.refreshCells({ force: true, rowNodes });
    }
    refreshHeads();
  }

  private follow(): void {
    const shown = shownColumns.value;
    const ids = this.api.getColumns()?.map((column) => column.getColId()) ?? [];
    // A fixture gets its run in the Run column: it stands there while one has none.
    const loose = this.rows.some((row) => row.id === looseHeadId);
    const lasting = (id: string) => id === lineColumnId || id === 'tag' || (loose && id === 'run');
    const wanted = ids.filter((id) => lasting(id) || shown.has(id as ColumnId));
    this.api.setColumnsVisible(wanted, true);
    this.api.setColumnsVisible(
      ids.filter((id) => !wanted.includes(id)),
      false,
    );
  }

  private showUnits(): void {
    lengthUnit.value;
    this.api.refreshCells({ force: true });
    refreshHeads();
  }

  private goToAsked(): void {
    const asked = goTo.value;
    if (asked === null) return;
    const { column } = asked;
    if (column !== null && !shownColumns.peek().has(column)) {
      // For now only: the choice that is kept is the engineer's own.
      lendColumn(column);
    }
    queueMicrotask(() => {
      goTo.value = null;
      this.focus(asked.fixtureId, column, true);
    });
  }

  private focus(fixtureId: string, column: ColumnId | null, scroll: boolean): void {
    const node = this.api.getRowNode(fixtureId);
    if (node === undefined || node.rowIndex === null) return;
    const colId = column ?? 'tag';
    if (scroll) {
      this.api.ensureNodeVisible(node, 'middle');
      this.api.ensureColumnVisible(colId);
    }
    this.api.setFocusedCell(node.rowIndex, colId);
  }
}

export function ScheduleGrid({ nonce }: ScheduleGridProps) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (place.current === null) return;
    const host = new ScheduleGridHost(place.current, nonce);
    return () => host.destroy();
  }, [nonce]);
  return <section class="grid-place" ref={place} aria-label="Fixture schedule" />;
}
