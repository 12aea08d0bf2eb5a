/** Keys that hold everywhere in the window. */
import { nextFinding } from './walk-findings.ts';
import { giveCommand } from './window-commands.ts';

/** Listens on the whole page. Keys of an open editor stay the editor's, but for saving and opening. */
export function followKeys(page: Document): void {
  page.addEventListener('keydown', (event) => {
    const ctrl = event.ctrlKey || event.metaKey;
    const key = event.key.toLowerCase();
    const typing =
      event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement;
    if (page.querySelector('dialog[open]') !== null) return;
    let act: (() => void) | null = null;
    if (ctrl && key === 's') act = () => giveCommand(event.shiftKey ? 'save-as' : 'save');
    else if (ctrl && key === 'o') act = () => giveCommand('open');
    else if (ctrl && key === 'p') act = () => giveCommand('print');
    else if (ctrl && key === 'z' && !typing)
      act = () => giveCommand(event.shiftKey ? 'redo' : 'undo');
    else if (ctrl && key === 'y' && !typing) act = () => giveCommand('redo');
    else if (event.key === 'F8') act = () => nextFinding(event.shiftKey ? -1 : 1);
    else if (event.key === 'F6') act = () => nextPane(page, event.shiftKey ? -1 : 1);
    if (act === null) return;
    event.preventDefault();
    act();
  });
}

/** F6 goes round the window's parts, as in desktop programs. */
function nextPane(page: Document, by: number): void {
  const panes = [...page.querySelectorAll<HTMLElement>('[data-pane]')];
  const at = panes.findIndex((pane) => pane.contains(page.activeElement));
  const pane = panes[(at + by + panes.length) % panes.length];
  const inside = pane?.querySelector<HTMLElement>(
    '.ag-cell-focus, .ag-cell[tabindex], [aria-selected="true"], button:not([disabled]), [tabindex="0"]',
  );
  (inside ?? pane)?.focus();
}
