import type {
  CellClassParams,
  ColDef,
  ICellRendererComp,
  ICellRendererParams,
  ITooltipParams,
  ValueGetterParams,
} from 'ag-grid-community';
import { type Column, type ColumnId, columns } from '../../src-shared/columns/column-table.ts';
import { cellOrigin, cellText, editText } from '../state/cell-text.ts';
import { lengthUnit } from '../state/document-store.ts';
import { inFull } from '../state/finding-index.ts';
import { type GridRow, ownFindings } from '../state/row-model.ts';
import { worstOf } from '../state/severity-words.ts';
import { CellView, FindingsView, shortFindings } from './cell-view.ts';
import { drawTap } from './run-line.ts';
import { TextEditor } from './text-editor.ts';

export const lineColumnId = 'line-drawing';

const widths: Readonly<Partial<Record<ColumnId, number>>> = {
  tag: 70,
  type: 52,
  run: 56,
  place: 50,
  span: 68,
  installed: 68,
  load: 54,
  cumulativeCurrent: 72,
  throughCurrent: 80,
  voltsHere: 78,
  voltsLow: 86,
  voltsHigh: 90,
  drop: 80,
  cableSoFar: 98,
  universe: 70,
  address: 92,
  lastAddress: 92,
  mode: 60,
  footprint: 80,
  homeRun: 82,
  leadIn: 72,
  supply: 72,
  breaker: 76,
  findings: 200,
  description: 160,
  remarks: 160,
  protection: 120,
};

/** Shorter heads than the table's titles, where the long one would cost a column's width. */
const heads: Readonly<Partial<Record<ColumnId, string>>> = {
  cumulativeCurrent: 'Cum. A',
  throughCurrent: 'Through A',
  voltsHere: 'Volts here',
  voltsLow: 'Volts, low',
  voltsHigh: 'Volts, high',
  current: 'Own A',
  address: 'Address',
};

/** Shown in this order; what is not named here follows in the table's order. */
const order: readonly ColumnId[] = [
  'tag',
  'type',
  'run',
  'place',
  'fedFrom',
  'span',
  'installed',
  'cableSoFar',
  'load',
  'powerFactor',
  'current',
  'cumulativeCurrent',
  'throughCurrent',
  'voltsHere',
  'voltsLow',
  'voltsHigh',
  'drop',
  'universe',
  'address',
  'lastAddress',
  'mode',
  'footprint',
];

/** All columns a grid can show, in grid order. */
export function gridColumns(): readonly Column[] {
  const place = ({ id }: Column) => {
    const at = order.indexOf(id);
    return id === 'findings' ? order.length + 1 : at < 0 ? order.length : at;
  };
  return columns
    .filter(({ id }) => id !== 'quantity')
    .map((column, at) => ({ column, at }))
    .sort((a, b) => place(a.column) - place(b.column) || a.at - b.at)
    .map(({ column }) => column);
}

const fixtureOf = (row: GridRow | undefined) => (row?.kind === 'fixture' ? row : null);

class LineView implements ICellRendererComp<GridRow> {
  private readonly root = document.createElement('div');
  private drawnRun: unknown = null;
  private drawnKey = '';
  init(params: ICellRendererParams<GridRow>): void {
    this.refresh(params);
  }
  getGui(): HTMLElement {
    return this.root;
  }
  refresh({ data }: ICellRendererParams<GridRow>): boolean {
    const row = fixtureOf(data);
    const key = row === null ? '' : `${row.index} ${worstOf(ownFindings(row))}`;
    if (row !== null && row.run === this.drawnRun && key === this.drawnKey) return true;
    this.drawnRun = row?.run ?? null;
    this.drawnKey = key;
    this.root.replaceChildren(...(row === null ? [] : [drawTap(row)]));
    return true;
  }
}

/** Classes of a cell: whose ink, which shade. A function, so that no rule text is evaluated. */
export function cellClasses(row: GridRow | undefined, column: Column): string[] {
  const fixture = fixtureOf(row);
  if (fixture === null) return [];
  const classes = [`from-${cellOrigin(fixture, column.id)}`];
  if (column.kind !== 'text' && column.kind !== 'findings') classes.push('figures');
  const worst = worstOf(fixture.cells?.get(column.id) ?? []);
  if (worst !== null && column.id !== 'findings') classes.push(`shade-${worst}`);
  return classes;
}

function tooltip(row: GridRow | undefined, column: Column): string | null {
  const fixture = fixtureOf(row);
  if (fixture === null) return null;
  const found = column.id === 'findings' ? fixture.findings : fixture.cells?.get(column.id);
  return found === undefined || found.length === 0 ? null : found.map(inFull).join('\n\n');
}

function columnDef(column: Column, onText: (text: string, id: ColumnId) => void): ColDef<GridRow> {
  const { id } = column;
  const findings = id === 'findings';
  return {
    colId: id,
    headerName: heads[id] ?? column.title,
    headerTooltip: `${column.title}. ${column.help}`,
    width: widths[id] ?? 96,
    ...(findings ? { flex: 1, minWidth: 150 } : {}),
    ...(id === 'tag' ? { pinned: 'left' as const } : {}),
    ...(column.kind === 'text' || findings ? {} : { headerClass: 'figures' }),
    editable: ({ data }) => column.edit === 'typed' && data?.kind === 'fixture',
    valueGetter: ({ data }: ValueGetterParams<GridRow>) => {
      const row = fixtureOf(data);
      if (row === null) return '';
      return findings
        ? shortFindings(row)
            .map((f) => f.title)
            .join(', ')
        : cellText(row, id, lengthUnit.value);
    },
    cellRenderer: findings ? FindingsView : CellView,
    cellRendererParams: { columnId: id },
    cellClass: ({ data }: CellClassParams<GridRow>) => cellClasses(data, column),
    tooltipValueGetter: ({ data }: ITooltipParams<GridRow>) => tooltip(data, column),
    cellEditor: TextEditor,
    cellEditorParams: {
      startText: ({ data }: { readonly data: GridRow }) => {
        const row = fixtureOf(data);
        return row === null ? '' : editText(row, id, lengthUnit.value);
      },
      onText: (text: string) => onText(text, id),
    },
  };
}

/** Column definitions of the schedule, the run's drawing first and frozen with the tag. */
export function scheduleColumns(
  shown: ReadonlySet<ColumnId>,
  onText: (text: string, id: ColumnId) => void,
): ColDef<GridRow>[] {
  const drawing: ColDef<GridRow> = {
    colId: lineColumnId,
    headerName: '',
    headerTooltip: 'The run drawn down its rows: as thick as the current through it.',
    width: 32,
    pinned: 'left',
    resizable: false,
    suppressNavigable: true,
    cellClass: 'cell-line',
    cellRenderer: LineView,
    valueGetter: () => '',
  };
  const list = gridColumns().map((column) => ({
    ...columnDef(column, onText),
    hide: column.id !== 'tag' && !shown.has(column.id),
  }));
  return [drawing, ...list];
}
