import { type ColDef, createGrid, type GridApi } from 'ag-grid-community';
import { useEffect, useRef } from 'preact/hooks';
import { connection } from '../host/connection.ts';
import { runEdit } from '../state/document-store.ts';
import { hush } from '../state/notice.ts';
import { severityWord } from '../state/severity-words.ts';
import { addedRecord, lineNote } from '../state/view-state.ts';
import { gridBase, oneRowAtHand } from './grid-base.ts';
import { MarkedView } from './marked-view.ts';
import { printable } from './print-layout.ts';
import type { RecordColumn } from './record-columns.ts';
import { RecordKeys } from './record-keys.ts';
import { TextEditor } from './text-editor.ts';

export interface RecordGridProps<R> {
  readonly name: string;
  readonly rows: readonly R[];
  readonly keyOf: (record: R) => string;
  readonly columns: readonly RecordColumn<R>[];
  readonly onAtHand?: (record: R) => void;
  readonly onOpen?: (record: R) => void;
}

interface Held<R> {
  readonly key: string;
  readonly record: R;
}

function columnDef<R>(column: RecordColumn<R>, first: boolean): ColDef<Held<R>> {
  const { id, title, help, width, flex, figures, text, start, edit, mark, shade } = column;
  return {
    colId: id,
    headerName: title,
    ...(help === undefined ? {} : { headerTooltip: `${title}. ${help}` }),
    width,
    ...(flex === undefined ? {} : { flex, minWidth: width }),
    ...(first ? { pinned: 'left' as const } : {}),
    ...(figures === true ? { headerClass: 'figures' } : {}),
    editable: edit !== undefined,
    valueGetter: ({ data }) => {
      if (data === undefined) return '';
      return text(data.record);
    },
    ...(mark === undefined ? {} : { cellRenderer: MarkedView, cellRendererParams: { mark } }),
    tooltipValueGetter: ({ data }) => {
      if (data === undefined) return null;
      const shown = text(data.record);
      const severity = mark?.(data.record) ?? null;
      if (severity !== null) return `${severityWord[severity]}: ${shown}`;
      return shown.length * 7 > width ? shown : null;
    },
    cellClass: ({ data }) => {
      const severity = data === undefined ? null : ((mark ?? shade)?.(data.record) ?? null);
      return [
        edit === undefined ? 'from-solved' : 'from-typed',
        ...(figures === true ? ['figures'] : []),
        ...(severity === null ? [] : [`shade-${severity}`]),
      ];
    },
    cellEditor: TextEditor,
    cellEditorParams: {
      startText: ({ data }: { readonly data: Held<R> }) => (start ?? text)(data.record),
    },
  };
}

function makeGrid<R>(
  element: HTMLElement,
  props: { current: RecordGridProps<R> },
): GridApi<Held<R>> {
  const { nonce } = connection();
  const keys = new RecordKeys<Held<R>>((held) => props.current.onOpen?.(held.record));
  return createGrid<Held<R>>(element, {
    ...gridBase<Held<R>>(nonce, (params) => keys.take(params)),
    columnDefs: props.current.columns.map((column, at) => columnDef(column, at === 0)),
    getRowId: ({ data }) => data.key,
    ensureDomOrder: true,
    rowSelection: oneRowAtHand,
    overlayNoRowsTemplate: '<span>Nothing here yet.</span>',
    onCellEditRequest: ({ data, column, newValue }) => {
      const spec = props.current.columns.find(({ id }) => id === column.getColId());
      const edit = spec?.edit?.(data.record, String(newValue ?? '')) ?? null;
      if (edit === null) return;
      hush();
      runEdit(edit);
    },
    onCellFocused: ({ rowIndex, column, api }) => {
      const node = rowIndex === null ? undefined : api.getDisplayedRowAtIndex(rowIndex);
      if (node?.data === undefined) return;
      node.setSelected(true, true);
      const id = typeof column === 'string' ? column : (column?.getColId() ?? '');
      const spec = props.current.columns.find((known) => known.id === id);
      const help = spec?.help === undefined ? '' : ` · ${spec.help}`;
      lineNote.value = spec === undefined ? null : `${spec.title}${help}`;
      props.current.onAtHand?.(node.data.record);
    },
    onRowDoubleClicked: ({ data }) => {
      if (data !== undefined) props.current.onOpen?.(data.record);
    },
  });
}

/** A virtual grid over any records, with the schedule's look, editor and keys. */
export function RecordGrid<R>(given: RecordGridProps<R>) {
  const place = useRef<HTMLDivElement>(null);
  const api = useRef<GridApi<Held<R>> | null>(null);
  const props = useRef(given);
  props.current = given;
  const { rows, columns, keyOf } = given;
  useEffect(() => {
    if (place.current === null) return;
    const grid = makeGrid(place.current, props);
    api.current = grid;
    const unlist = printable(grid);
    return () => {
      unlist();
      grid.stopEditing();
      api.current = null;
      grid.destroy();
    };
  }, []);
  useEffect(() => {
    api.current?.setGridOption(
      'columnDefs',
      columns.map((column, at) => columnDef(column, at === 0)),
    );
  }, [columns]);
  useEffect(() => {
    api.current?.setGridOption(
      'rowData',
      rows.map((record) => ({ key: keyOf(record), record })),
    );
    api.current?.refreshCells({ force: true });
    const added = rows.findIndex((record) => keyOf(record) === addedRecord.peek());
    const first = columns[0]?.id;
    if (added < 0 || first === undefined) return;
    addedRecord.value = null;
    api.current?.ensureIndexVisible(added);
    api.current?.setFocusedCell(added, first);
  }, [rows, columns, keyOf]);
  return <section class="grid-place" aria-label={given.name} ref={place} />;
}
