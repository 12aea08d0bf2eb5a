import { atHand, side, view } from './view-state.ts';

/** How the window stands when another job was opened. */
export function resetView(): void {
  view.value = 'schedule';
  atHand.value = { fixtureId: null, run: null, column: null };
  side.value = 'run';
}
