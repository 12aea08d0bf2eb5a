/** The system's own dialogs, on the window where there is one. */
import { type BrowserWindow, dialog } from 'electron';
import { type NativeQuestion, openFilters, saveFilters } from '../shell/dialog-words.ts';

const mutable = (filters: ReturnType<typeof openFilters>) =>
  filters.map(({ name, extensions }) => ({ name, extensions: [...extensions] }));

/** Path of the file chosen; null: closed. */
export async function chooseOpenPath(
  window: BrowserWindow,
  what: 'any' | 'schedule',
): Promise<string | null> {
  const { canceled, filePaths } = await dialog.showOpenDialog(window, {
    properties: ['openFile'],
    filters: mutable(openFilters(what)),
  });
  return canceled ? null : (filePaths[0] ?? null);
}

/** Path to write; null: closed. The dialog itself asks before a file that is there is replaced. */
export async function chooseSavePath(
  window: BrowserWindow,
  offered: string,
  extension: string,
): Promise<string | null> {
  const { canceled, filePath } = await dialog.showSaveDialog(window, {
    defaultPath: offered,
    filters: mutable(saveFilters(extension)),
    properties: ['showOverwriteConfirmation', 'createDirectory'],
  });
  return canceled || filePath === '' ? null : filePath;
}

/** True: the user does it; false: stays. */
export async function askNatively(
  window: BrowserWindow | null,
  { message, detail, buttons }: NativeQuestion,
): Promise<boolean> {
  const options = {
    type: 'warning' as const,
    title: 'Runledger',
    message,
    detail,
    buttons: [...buttons],
    defaultId: 1,
    cancelId: 1,
    noLink: true,
  };
  const { response } =
    window === null
      ? await dialog.showMessageBox(options)
      : await dialog.showMessageBox(window, options);
  return response === 0;
}

/** A fault nothing can be done about, before the program ends. */
export function sayFatal(what: string): void {
  dialog.showErrorBox(
    'Runledger has to end',
    `A fault of ours: ${what}\n\nUnsaved work up to the latest pause is kept as a recovery copy. Please report this.`,
  );
}
