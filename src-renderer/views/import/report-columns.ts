/** Columns of the list of readings. */
import type { ColDef, ICellRendererComp, ICellRendererParams } from 'ag-grid-community';
import { TextEditor } from '../../grid/text-editor.ts';
import { lengthUnit } from '../../state/document-store.ts';
import { readAsWords } from '../../state/import-preview.ts';
import type { ReadingEntry } from '../../state/reading-list.ts';
import { looksElements, looksWords } from './confidence-mark.tsx';
import type { Held } from './held-rows.ts';

export type HeldEntry = Held<ReadingEntry>;

function span(className: string, text: string): HTMLElement {
  const element = document.createElement('span');
  element.className = className;
  element.textContent = text;
  return element;
}

/** `Install!B12`, and behind it the file where that is a further one. */
function nameElements(cell: string): HTMLElement[] {
  const [, file, name] = /^\[(.+)\](.+!.+)$/su.exec(cell) ?? [];
  if (file === undefined || name === undefined) return [span('figure', cell)];
  return [span('cell-own', name), span('cell-file', file)];
}

/** The cell's name behind the marks of its reading. */
class CellNameView implements ICellRendererComp<HeldEntry> {
  private readonly root = document.createElement('div');

  init(params: ICellRendererParams<HeldEntry>): void {
    this.root.className = 'cell';
    this.refresh(params);
  }

  getGui(): HTMLElement {
    return this.root;
  }

  refresh({ data }: ICellRendererParams<HeldEntry>): boolean {
    if (data === undefined) return true;
    const { reading, accepted, answered } = data.row;
    this.root.replaceChildren(
      ...looksElements({ confidence: reading.confidence, accepted, answered }),
      ...nameElements(reading.cell),
    );
    return true;
  }
}

const readAs = ({ row }: HeldEntry) => readAsWords(row.reading, lengthUnit.peek());

export const rawColumnId = 'raw';

export const reportColumns: readonly ColDef<HeldEntry>[] = [
  {
    colId: 'cell',
    headerName: 'Cell',
    initialWidth: 116,
    pinned: 'left',
    cellRenderer: CellNameView,
    valueGetter: ({ data }) => data?.row.reading.cell ?? '',
    tooltipValueGetter: ({ data }) =>
      data === undefined
        ? null
        : `${looksWords({ ...data.row, confidence: data.row.reading.confidence })}: ${data.row.reading.note}`,
  },
  {
    colId: rawColumnId,
    headerName: 'In the file',
    headerTooltip: 'Type another text to have the cell read as that.',
    initialWidth: 80,
    editable: true,
    cellClass: 'from-typed',
    valueGetter: ({ data }) => data?.row.reading.raw ?? '',
    cellEditor: TextEditor,
    cellEditorParams: {
      startText: ({ data }: { readonly data: HeldEntry }) => data.row.reading.raw,
    },
  },
  {
    colId: 'value',
    headerName: 'Read as',
    initialWidth: 80,
    valueGetter: ({ data }) => (data === undefined ? '' : readAs(data)),
  },
  {
    colId: 'note',
    headerName: 'Why',
    initialFlex: 1,
    minWidth: 44,
    cellClass: 'from-from-type',
    valueGetter: ({ data }) => data?.row.reading.note ?? '',
    tooltipValueGetter: ({ data }) => data?.row.reading.note ?? null,
  },
];
