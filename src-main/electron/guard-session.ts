/** Everything a session could grant or fetch is denied; its only protocol is ours. */
import type { Session } from 'electron';
import type { PageSource } from '../page/page-source.ts';
import { mayLoad, SCHEME } from '../shell/own-address.ts';
import { answerPage } from '../shell/page-answer.ts';

const guarded = new WeakSet<Session>();

/** Once for each session. @param connectTo origins a page under development may connect to */
export function guardSession(session: Session, connectTo: readonly string[]): void {
  if (guarded.has(session)) return;
  guarded.add(session);
  session.setPermissionRequestHandler((_contents, _permission, answer) => answer(false));
  session.setPermissionCheckHandler(() => false);
  session.setDevicePermissionHandler(() => false);
  // Null denies; an object without a picture would be a fault thrown in the shell.
  session.setDisplayMediaRequestHandler((_request, answer) => answer(null));
  // Not on every system.
  session.setBluetoothPairingHandler?.((_details, answer) => answer({ confirmed: false }));
  session.webRequest.onBeforeRequest((details, answer) => {
    answer({ cancel: !mayLoad(details.url, connectTo) });
  });
  session.on('will-download', (event) => event.preventDefault());
  session.on('select-hid-device', (event, _details, answer) => {
    event.preventDefault();
    answer();
  });
  session.on('select-usb-device', (event, _details, answer) => {
    event.preventDefault();
    answer();
  });
  session.on('select-serial-port', (event, _ports, _contents, answer) => {
    event.preventDefault();
    answer('');
  });
  session.setSpellCheckerEnabled(false);
}

/** Serves the window's page on our protocol, with its policy and guard headers. */
export function servePages(session: Session, pages: PageSource): void {
  session.protocol.handle(SCHEME, async ({ url, method }) => {
    const { status, headers, body } = await answerPage(pages, { url, method });
    // A copy of its own: a Response takes no view on memory that may be shared.
    return new Response(typeof body === 'string' ? body : new Uint8Array(body), {
      status,
      headers,
    });
  });
}
