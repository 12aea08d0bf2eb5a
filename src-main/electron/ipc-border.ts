/** The one wrapper round every request: who asks, on which channel, in which form. */
import { type IpcMainInvokeEvent, ipcMain, type WebContents } from 'electron';
import { answerRequest } from '../../src-shared/contract/answer-request.ts';
import type { Handlers } from '../../src-shared/contract/requests.ts';
import { ASK_CHANNEL, HOLD_CHANNEL } from '../shell/channels.ts';
import { type HoldPlaces, holdFile } from '../shell/hold-question.ts';
import { whyNotHeard } from '../shell/sender-rule.ts';

function whyNot(event: IpcMainInvokeEvent, own: WebContents | null) {
  const { sender, senderFrame } = event;
  return whyNotHeard({
    frameAddress: senderFrame?.url ?? null,
    isMainFrame: senderFrame !== null && senderFrame.parent === null,
    isOwnWindow: own !== null && sender.id === own.id,
  });
}

/** @param ownContents the page of the one window; null: there is none yet */
export function openBorder(
  handlers: Handlers,
  places: HoldPlaces,
  ownContents: () => WebContents | null,
): void {
  ipcMain.handle(ASK_CHANNEL, (event, name: unknown, question: unknown) => {
    const refusal = whyNot(event, ownContents());
    return refusal ?? answerRequest(handlers, typeof name === 'string' ? name : '', question);
  });
  ipcMain.handle(HOLD_CHANNEL, (event, asked: unknown) => {
    const refusal = whyNot(event, ownContents());
    return refusal ?? holdFile(places, asked);
  });
}
