import type { SuppressKeyboardEventParams } from 'ag-grid-community';
import { gridAct } from './schedule-keys.ts';

/** Keys of the smaller tables: Enter down, Tab right, Delete clears, as in the schedule. */
export class RecordKeys<H> {
  constructor(private readonly open: (held: H) => void) {}

  /** True when the key was ours. */
  take(params: SuppressKeyboardEventParams<H>): boolean {
    const { event, editing, api, node, column } = params;
    if (event.isComposing) return true;
    const pressed = {
      key: event.key,
      ctrl: event.ctrlKey || event.metaKey,
      shift: event.shiftKey,
      alt: event.altKey,
    };
    const act = gridAct(pressed, editing);
    if (act === null) return false;
    const ids = api.getAllDisplayedColumns().map((shown) => shown.getColId());
    const at = ids.indexOf(column.getColId());
    const row = node.rowIndex ?? 0;
    const last = api.getDisplayedRowCount() - 1;
    const go = (rowIndex: number, id: string | undefined) => {
      event.preventDefault();
      event.stopPropagation();
      if (editing) api.stopEditing();
      const to = Math.min(Math.max(rowIndex, 0), last);
      api.ensureIndexVisible(to);
      api.setFocusedCell(to, id ?? column.getColId());
      return true;
    };
    switch (act.act) {
      case 'commit':
        return go(row + act.rows, ids[at + act.columns]);
      case 'move': {
        if (act.columns === 0) {
          const openable = column.getColDef().editable !== true;
          if (openable && node.data !== undefined) this.open(node.data);
          return go(row + act.rows, undefined);
        }
        // At the end of a row Tab leaves the table, so that it is no trap.
        return ids[at + act.columns] === undefined ? true : go(row, ids[at + act.columns]);
      }
      case 'row-start':
        return go(row, ids[0]);
      case 'row-end':
        return go(row, ids.at(-1));
      case 'grid-start':
        return go(0, ids[0]);
      case 'grid-end':
        return go(last, ids.at(-1));
      case 'block-edge':
        return go(act.down ? last : 0, undefined);
      case 'clear':
        if (column.getColDef().editable !== true) return true;
        event.preventDefault();
        api.startEditingCell({ rowIndex: row, colKey: column, key: 'Delete' });
        api.stopEditing();
        return true;
      default:
        return true;
    }
  }
}
