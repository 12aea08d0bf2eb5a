import type { GridApi, SuppressKeyboardEventParams } from 'ag-grid-community';
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { clearCell, insertBehind, removeRow, toggleLock } from '../state/edit-schedule.ts';
import type { GridRow } from '../state/row-model.ts';
import { goTo } from '../state/view-state.ts';
import { openRowMenu } from './row-menu.tsx';
import { lineColumnId } from './schedule-columns.ts';
import { blockEdge, type GridAct, gridAct, stepRow } from './schedule-keys.ts';

/** Carries out the keys of the schedule: movement that never wraps, and the row's own keys. */
export class CellKeys {
  /** Column a run of Tabs began in: Enter returns to it, a row down. */
  private tabFrom: string | null = null;

  constructor(private readonly api: () => GridApi<GridRow>) {}

  /** True when the key was ours and the grid must leave it alone. */
  take(params: SuppressKeyboardEventParams<GridRow>): boolean {
    const { event, editing, node, column } = params;
    if (event.isComposing) return true;
    if (event.key === 'Process' && !editing) {
      // An input method begins: an empty editor must stand before its first sign arrives.
      this.api().startEditingCell({
        rowIndex: node.rowIndex ?? 0,
        colKey: column,
        key: 'Backspace',
      });
      return true;
    }
    const act = gridAct(
      {
        key: event.key,
        ctrl: event.ctrlKey || event.metaKey,
        shift: event.shiftKey,
        alt: event.altKey,
      },
      editing,
    );
    if (act === null) {
      if (event.key.startsWith('Arrow')) this.tabFrom = null;
      return false;
    }
    const rowIndex = node.rowIndex ?? 0;
    const left = this.perform(act, rowIndex, column.getColId(), node.data, event);
    if (left) {
      event.preventDefault();
      event.stopPropagation();
    }
    return true;
  }

  /** The fixture row at an index or next to it in a direction; null when there is none. */
  fixtureFrom(index: number, by: number): number | null {
    if (this.isFixture(index)) return index;
    const next = stepRow((at) => this.isFixture(at), this.count(), index, by);
    return this.isFixture(next) ? next : null;
  }

  private isFixture(index: number): boolean {
    return this.api().getDisplayedRowAtIndex(index)?.data?.kind === 'fixture';
  }

  private count(): number {
    return this.api().getDisplayedRowCount();
  }

  private perform(
    act: GridAct,
    rowIndex: number,
    colId: string,
    row: GridRow | undefined,
    event: KeyboardEvent,
  ): boolean {
    const is = (at: number) => this.isFixture(at);
    switch (act.act) {
      case 'commit':
        this.api().stopEditing();
        return this.move(rowIndex, colId, act.rows, act.columns);
      case 'move':
        return this.move(rowIndex, colId, act.rows, act.columns);
      case 'row-start':
        return this.focus(rowIndex, this.columns()[0] ?? colId);
      case 'row-end':
        return this.focus(rowIndex, this.columns().at(-1) ?? colId);
      case 'grid-start':
        return this.focus(stepRow(is, this.count(), -1, 1), this.columns()[0] ?? colId);
      case 'grid-end':
        return this.focus(
          stepRow(is, this.count(), this.count(), -1),
          this.columns().at(-1) ?? colId,
        );
      case 'block-edge':
        return this.focus(blockEdge(is, this.count(), rowIndex, act.down), colId);
      default:
    }
    if (row?.kind !== 'fixture') return true;
    const column = colId as ColumnId;
    switch (act.act) {
      case 'clear':
        clearCell(row.id, column);
        break;
      case 'insert': {
        const id = insertBehind(row.id);
        if (id !== null) goTo.value = { fixtureId: id, column };
        break;
      }
      case 'remove':
        removeRow(row.id);
        break;
      case 'lock':
        toggleLock(row.id, column);
        break;
      case 'menu': {
        const cell = event.target instanceof HTMLElement ? event.target : document.body;
        const { left, bottom } = cell.getBoundingClientRect();
        openRowMenu(row.id, column, left, bottom);
        break;
      }
    }
    return true;
  }

  private columns(): string[] {
    const shown = this.api().getAllDisplayedColumns();
    return shown.map((column) => column.getColId()).filter((id) => id !== lineColumnId);
  }

  /** False when Tab runs out of the row: the focus may leave the grid. */
  private move(rowIndex: number, colId: string, rows: number, across: number): boolean {
    const list = this.columns();
    const at = list.indexOf(colId);
    if (across !== 0) {
      this.tabFrom ??= colId;
      const next = list[at + across];
      if (next === undefined) {
        this.tabFrom = null;
        this.leave(across > 0);
        return true;
      }
      return this.focus(rowIndex, next);
    }
    const column = this.tabFrom !== null && rows > 0 ? this.tabFrom : colId;
    this.tabFrom = null;
    return this.focus(
      stepRow((i) => this.isFixture(i), this.count(), rowIndex, rows),
      column,
    );
  }

  private focus(rowIndex: number, colId: string): boolean {
    const api = this.api();
    api.ensureIndexVisible(rowIndex);
    api.ensureColumnVisible(colId);
    api.setFocusedCell(rowIndex, colId);
    return true;
  }

  private leave(forward: boolean): void {
    const target = document.querySelector<HTMLElement>(
      forward ? '[data-after-grid]' : '[data-before-grid]',
    );
    target?.focus();
  }
}
