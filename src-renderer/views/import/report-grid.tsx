import { effect, untracked } from '@preact/signals';
import { createGrid, type GridApi, type GridOptions } from 'ag-grid-community';
import { useEffect, useRef } from 'preact/hooks';
import { gridBase, oneRowAtHand } from '../../grid/grid-base.ts';
import { printable } from '../../grid/print-layout.ts';
import { connection } from '../../host/connection.ts';
import { lengthUnit } from '../../state/document-store.ts';
import { readCellAs } from '../../state/import-acts.ts';
import { focusAsked, type ImportHand, importHand } from '../../state/import-hand.ts';
import { actOnHand } from '../../state/import-hand-acts.ts';
import { findCell, showSheet } from '../../state/import-preview.ts';
import { shownEntries } from '../../state/import-report.ts';
import { hush, say } from '../../state/notice.ts';
import type { ReadingEntry } from '../../state/reading-list.ts';
import { lineNote } from '../../state/view-state.ts';
import { updateHeld } from './held-rows.ts';
import { type HeldEntry, rawColumnId, reportColumns } from './report-columns.ts';
import { type ReportAct, ReportKeys } from './report-keys.ts';

const help =
  'Enter accepts · type to have the cell read as that · Alt+Enter takes the offer · Delete leaves the cell blank · Ctrl+Backspace as in the file · Shift+F6 to the cell';

const keyOf = ({ key }: ReadingEntry): string => key;

function sameEntry(a: ReadingEntry, b: ReadingEntry): boolean {
  if (a.accepted !== b.accepted || a.answered !== b.answered) return false;
  return a.reading === b.reading || JSON.stringify(a.reading) === JSON.stringify(b.reading);
}

class ReportGridHost {
  private held: readonly HeldEntry[] = [];
  private readonly api: GridApi<HeldEntry>;
  private readonly stops: (() => void)[] = [];

  constructor(private readonly element: HTMLElement) {
    this.held = updateHeld([], shownEntries.peek(), keyOf, sameEntry).held;
    this.api = createGrid(element, this.options());
    this.stops.push(printable(this.api));
    // Drawing reads signals too: each effect follows its own signal alone.
    this.stops.push(
      effect(() => {
        const shown = shownEntries.value;
        untracked(() => this.show(shown));
      }),
      effect(() => {
        const hand = importHand.value;
        untracked(() => this.followHand(hand));
      }),
    );
    this.stops.push(effect(() => this.focusIfAsked()));
    this.stops.push(
      effect(() => {
        lengthUnit.value;
        untracked(() => this.api.refreshCells({ force: true }));
      }),
    );
  }

  destroy(): void {
    this.api.stopEditing();
    for (const stop of this.stops) stop();
    this.api.destroy();
  }

  private options(): GridOptions<HeldEntry> {
    const { nonce } = connection();
    const keys = new ReportKeys<HeldEntry>((act) => this.act(act));
    return {
      ...gridBase<HeldEntry>(nonce, (params) => keys.take(params)),
      rowData: [...this.held],
      columnDefs: [...reportColumns],
      getRowId: ({ data }) => data.id,
      ensureDomOrder: true,
      rowSelection: oneRowAtHand,
      suppressScrollOnNewData: true,
      overlayNoRowsTemplate: '<span>No reading under this choice.</span>',
      onCellEditRequest: ({ data, newValue }) => {
        const text = String(newValue ?? '').trim();
        this.answer(data.row, text === '' ? null : text);
      },
      onCellFocused: ({ rowIndex, column }) => {
        const node = rowIndex === null ? undefined : this.api.getDisplayedRowAtIndex(rowIndex);
        if (node?.data === undefined || column === null) return;
        node.setSelected(true, true);
        this.takeHand(node.data.row);
      },
      onRowDoubleClicked: ({ data }) => {
        if (data !== undefined) this.act('to-preview');
      },
    };
  }

  /** The report leads: the preview shows the sheet and brings the cell into view. */
  private takeHand({ key, reading }: ReadingEntry): void {
    const place = findCell(reading.cell);
    if (place !== null) showSheet(place);
    lineNote.value = help;
    importHand.value = { cell: reading.cell, readingKey: key };
  }

  private answer({ reading }: ReadingEntry, text: string | null): void {
    if (findCell(reading.cell) === null) {
      say('alert', 'This is about the file as a whole; there is no cell to change.');
      return;
    }
    hush();
    void readCellAs(reading.cell, text);
  }

  private focused(): ReadingEntry | null {
    const at = this.api.getFocusedCell();
    return at === null ? null : (this.api.getDisplayedRowAtIndex(at.rowIndex)?.data?.row ?? null);
  }

  private act(act: ReportAct): void {
    const entry = this.focused();
    if (entry === null) return;
    // The grid tells of a new focus a moment later than of a key.
    this.takeHand(entry);
    switch (act) {
      case 'to-preview':
        focusAsked.value = 'preview';
        return;
      case 'leave-blank':
        this.answer(entry, null);
        return;
      case 'accept': {
        const before = this.api.getFocusedCell()?.rowIndex ?? 0;
        actOnHand('accept');
        this.toNext(before, entry.key);
        return;
      }
      default:
        actOnHand(act);
    }
  }

  /** On to what follows: the next row, which has moved up when the accepted one left the list. */
  private toNext(before: number, key: string): void {
    const stays = this.api.getRowNode(key) !== undefined;
    this.focusRow(stays ? before + 1 : before);
  }

  private focusRow(wanted: number): void {
    const last = this.api.getDisplayedRowCount() - 1;
    if (last < 0) return;
    const rowIndex = Math.min(Math.max(wanted, 0), last);
    this.api.ensureIndexVisible(rowIndex);
    this.api.setFocusedCell(rowIndex, this.api.getFocusedCell()?.column ?? rawColumnId);
  }

  private show(entries: readonly ReadingEntry[]): void {
    const { held, moved, changed } = updateHeld(this.held, entries, keyOf, sameEntry);
    this.held = held;
    const focused = this.api.getFocusedCell();
    const inside = this.element.contains(document.activeElement);
    if (moved) {
      this.api.setGridOption('rowData', [...held]);
      if (inside && focused !== null) this.focusRow(focused.rowIndex);
    }
    const nodes = this.api.getRenderedNodes();
    const rowNodes = nodes.filter(({ id }) => id !== undefined && changed.has(id));
    if (rowNodes.length > 0) this.api.refreshCells({ force: true, rowNodes });
  }

  /** Shows the reading of a cell taken in the preview; the focus stays there. */
  private followHand(hand: ImportHand | null): void {
    if (hand === null || hand.readingKey !== null) return;
    const held = this.held.find(({ row }) => row.reading.cell === hand.cell);
    const node = held === undefined ? undefined : this.api.getRowNode(held.id);
    if (node === undefined) {
      this.api.deselectAll();
      return;
    }
    node.setSelected(true, true);
    this.api.ensureNodeVisible(node);
  }

  private focusIfAsked(): void {
    if (focusAsked.value !== 'report') return;
    queueMicrotask(() => {
      focusAsked.value = null;
      const hand = importHand.peek();
      const at = this.held.findIndex(({ row }) => row.reading.cell === hand?.cell);
      this.focusRow(Math.max(0, at));
    });
  }
}

/** Every reading of the report under the filter, what wants a look first. */
export function ReportGrid() {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (place.current === null) return;
    const host = new ReportGridHost(place.current);
    return () => host.destroy();
  }, []);
  return <section class="grid-place report-place" aria-label="Readings" ref={place} />;
}
