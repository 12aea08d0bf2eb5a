/** What every grid of the window has in common: look, editing through commands, our own keys. */
import type { GridOptions, SuppressKeyboardEventParams } from 'ag-grid-community';
import { gridTheme, rowHeight } from './grid-theme.ts';

/**
 * @param nonce what the page's policy lets style elements carry; empty outside a host
 * @param takeKey true: the key was ours, the grid leaves it alone
 */
export function gridBase<R>(
  nonce: string,
  takeKey: (params: SuppressKeyboardEventParams<R>) => boolean,
): GridOptions<R> {
  return {
    theme: gridTheme,
    ...(nonce === '' ? {} : { styleNonce: nonce }),
    rowHeight,
    defaultColDef: {
      sortable: false,
      resizable: true,
      suppressMovable: true,
      suppressHeaderMenuButton: true,
      suppressKeyboardEvent: takeKey,
    },
    readOnlyEdit: true,
    stopEditingWhenCellsLoseFocus: true,
    animateRows: false,
    tooltipShowDelay: 350,
    tooltipHideDelay: 60_000,
  };
}

/** One row under hand at a time. */
export const oneRowAtHand = {
  mode: 'singleRow',
  checkboxes: false,
  enableClickSelection: false,
} as const;
