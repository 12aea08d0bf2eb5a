/** Hears the host, and tells it what the frame around the window shows. */
import { effect } from '@preact/signals';
import type { HostEvent } from '../../src-shared/contract/host-events.ts';
import { connection } from '../host/connection.ts';
import { dirty, project } from './document-store.ts';
import { mayLeave, openArrived } from './file-actions.ts';
import { sayReason } from './notice.ts';
import { windowTitle } from './start.ts';
import { givable, giveCommand } from './window-commands.ts';

let answering = false;

/** Says at once that it asks, then what the user decided. Asked again meanwhile, it asks on. */
async function answerMayLeave(): Promise<void> {
  const { ask } = connection().host;
  await ask('app.leave', { answer: 'asking' });
  if (answering) return;
  answering = true;
  try {
    await ask('app.leave', { answer: (await mayLeave()) ? 'leave' : 'stay' });
  } finally {
    answering = false;
  }
}

function hear(event: HostEvent): void {
  if (event.kind === 'command') giveCommand(event.command);
  else if (event.kind === 'open') void openArrived(event.file);
  else if (event.kind === 'refused') sayReason(event.reason);
  else void answerMayLeave();
}

/** Starts hearing and telling. In a browser, the page's own title is all there is to tell. */
export function followHost(page: Document): void {
  const { host } = connection();
  host.onEvent(hear);
  effect(() => {
    page.title = windowTitle();
  });
  if (host.kind === 'loopback') {
    page.defaultView?.addEventListener('beforeunload', (event) => {
      if (dirty.value) event.preventDefault();
    });
    return;
  }
  effect(() => {
    const title = windowTitle().slice(0, 300);
    const commands = [...givable.value];
    void host.ask('app.told', { title, unsaved: project.value !== null && dirty.value, commands });
  });
}
