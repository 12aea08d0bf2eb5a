/** A file dropped anywhere on the window is opened. */
import { signal } from '@preact/signals';
import { openFile } from './file-actions.ts';

/** A file hangs over the window. */
export const dragged = signal(false);

export function followDrops(page: Document): void {
  page.addEventListener('dragover', (event) => {
    if (event.dataTransfer?.types.includes('Files') !== true) return;
    event.preventDefault();
    dragged.value = true;
  });
  page.addEventListener('dragleave', (event) => {
    if (event.relatedTarget === null) dragged.value = false;
  });
  page.addEventListener('drop', (event) => {
    dragged.value = false;
    event.preventDefault();
    const file = event.dataTransfer?.files[0];
    if (file !== undefined) void openFile(file);
  });
}
