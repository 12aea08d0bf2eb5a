/** Between page and shell: three functions and nothing else. Runs sandboxed, in a world of its own. */
import { contextBridge, ipcRenderer, webUtils } from 'electron';
import { ASK_CHANNEL, BRIDGE_NAME, EVENT_CHANNEL, HOLD_CHANNEL } from '../shell/channels.ts';

/** A file that lives on no disk is sent as its bytes; the shell refuses more than this. */
const MOST_BYTES = 60_000_000;

const tooLarge = (name: string) => ({
  ok: false,
  reason: {
    code: 'too-large',
    what: `This is more than the ${MOST_BYTES / 1e6} MB taken in at once.`,
    where: name,
    todo: 'Keep the schedule and its legend in a workbook of their own and open that.',
  },
});

/** The path of a file stays here: the page gets an opaque id for it. */
async function hold(file: File): Promise<unknown> {
  const path = webUtils.getPathForFile(file);
  if (path !== '') return ipcRenderer.invoke(HOLD_CHANNEL, { path });
  if (file.size > MOST_BYTES) return tooLarge(file.name);
  const bytes = new Uint8Array(await file.arrayBuffer());
  return ipcRenderer.invoke(HOLD_CHANNEL, { name: file.name, bytes });
}

contextBridge.exposeInMainWorld(BRIDGE_NAME, {
  ask: (name: string, question: unknown) => ipcRenderer.invoke(ASK_CHANNEL, name, question),
  hold,
  onEvent: (listener: (event: unknown) => void) => {
    const heard = (_event: unknown, told: unknown) => listener(told);
    ipcRenderer.on(EVENT_CHANNEL, heard);
    return () => {
      ipcRenderer.off(EVENT_CHANNEL, heard);
    };
  },
});
