/** Keys of a grid, decided from what was pressed: pure, so that they can be tested without one. */

export interface Pressed {
  readonly key: string;
  readonly ctrl: boolean;
  readonly shift: boolean;
  readonly alt: boolean;
}

export type GridAct =
  | { readonly act: 'move'; readonly rows: number; readonly columns: number }
  | { readonly act: 'row-end' | 'row-start' | 'grid-end' | 'grid-start' }
  | { readonly act: 'block-edge'; readonly down: boolean }
  | { readonly act: 'commit'; readonly rows: number; readonly columns: number }
  | { readonly act: 'clear' | 'insert' | 'remove' | 'lock' | 'menu' };

/** What a key means in a cell; null: leave it to the grid (arrows, typing, F2, Esc). */
export function gridAct(pressed: Pressed, editing: boolean): GridAct | null {
  const { key, ctrl, shift, alt } = pressed;
  const back = shift ? -1 : 1;
  if (key === 'Enter' && !ctrl && !alt) {
    return { act: editing ? 'commit' : 'move', rows: back, columns: 0 };
  }
  if (key === 'Tab' && !ctrl && !alt) {
    return { act: editing ? 'commit' : 'move', rows: 0, columns: back };
  }
  if (editing || alt) return null;
  switch (key) {
    case 'Home':
      return { act: ctrl ? 'grid-start' : 'row-start' };
    case 'End':
      return { act: ctrl ? 'grid-end' : 'row-end' };
    case 'ArrowDown':
      return ctrl ? { act: 'block-edge', down: true } : null;
    case 'ArrowUp':
      return ctrl ? { act: 'block-edge', down: false } : null;
    case 'ArrowLeft':
      return ctrl ? { act: 'row-start' } : null;
    case 'ArrowRight':
      return ctrl ? { act: 'row-end' } : null;
    case 'Delete':
      return { act: ctrl ? 'remove' : 'clear' };
    case 'Backspace':
      return { act: 'clear' };
    case 'Insert':
      return { act: 'insert' };
    case 'F10':
      return shift ? { act: 'menu' } : null;
    case 'ContextMenu':
      return { act: 'menu' };
    default:
      return ctrl && key.toLowerCase() === 'l' ? { act: 'lock' } : null;
  }
}

/** The next row index that holds a fixture, `from` itself when there is none that way. */
export function stepRow(
  isFixture: (index: number) => boolean,
  count: number,
  from: number,
  by: number,
): number {
  for (let at = from + by; at >= 0 && at < count; at += by) if (isFixture(at)) return at;
  return from;
}

/** First or last row of the run at hand; there already: that of the next run. */
export function blockEdge(
  isFixture: (index: number) => boolean,
  count: number,
  from: number,
  down: boolean,
): number {
  const by = down ? 1 : -1;
  let at = stepRow(isFixture, count, from, by);
  while (at + by >= 0 && at + by < count && isFixture(at + by)) at += by;
  return at;
}
