/** Copy, cut and paste of the one cell at hand, by the browser's own events. */
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { clearCell, typeIntoCell } from '../state/edit-schedule.ts';
import { say } from '../state/notice.ts';

export interface ClipboardCell {
  readonly fixtureId: string;
  readonly column: ColumnId;
  readonly text: string;
}

/** The text of a clipboard when it is one cell; null when it is several. */
export function oneCell(text: string): string | null {
  const whole = text.replace(/\r?\n$/u, '');
  return /[\t\r\n]/u.test(whole) ? null : whole;
}

/** Follows the clipboard events of a grid. `cell`: the cell at hand when none is being edited. */
export function followClipboard(grid: HTMLElement, cell: () => ClipboardCell | null): void {
  const copy = (event: ClipboardEvent) => {
    const at = cell();
    if (at === null) return;
    event.clipboardData?.setData('text/plain', at.text);
    event.preventDefault();
    if (event.type === 'cut') clearCell(at.fixtureId, at.column);
  };
  grid.addEventListener('copy', copy);
  grid.addEventListener('cut', copy);
  grid.addEventListener('paste', (event) => {
    const at = cell();
    if (at === null) return;
    event.preventDefault();
    const text = oneCell(event.clipboardData?.getData('text/plain') ?? '');
    if (text === null) say('alert', 'Several cells at once are not taken; paste them one by one.');
    else typeIntoCell(at.fixtureId, at.column, text);
  });
}
