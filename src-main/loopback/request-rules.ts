/** Who may ask: rules checked before a request is looked at any further. */
import type { IncomingMessage } from 'node:http';
import type { Reason } from '../../src-shared/contract/requests.ts';
import { sameSecret } from './secrets.ts';

export interface Refusal {
  readonly status: number;
  readonly reason: Reason;
}

export interface Door {
  /** `127.0.0.1:49152` */
  readonly host: string;
  readonly cookieName: string;
  readonly cookie: string;
  readonly secret: string;
}

function refusal(status: number, code: string, what: string, todo: string): Refusal {
  return { status, reason: { code, what, where: 'loopback host', todo } };
}

const START_AGAIN = 'Use the address printed in the terminal.';
const RELOAD = 'Open Runledger again by a new address from the terminal.';

function only(request: IncomingMessage, header: string): string | null | undefined {
  const values = request.headersDistinct[header];
  if (values === undefined) return undefined;
  return values.length === 1 ? (values[0] ?? null) : null;
}

/** Rules for every request: the host's own name, and no word of another page. */
export function whyNotHeard(request: IncomingMessage, door: Door): Refusal | null {
  if (only(request, 'host') !== door.host) {
    return refusal(403, 'wrong-host', 'The address is not that of this host.', START_AGAIN);
  }
  const origin = only(request, 'origin');
  if (origin !== undefined && origin !== `http://${door.host}`) {
    return refusal(403, 'foreign-origin', 'The request comes from another page.', START_AGAIN);
  }
  return null;
}

/** A request some other site made the browser send; the door itself may be entered from anywhere. */
export function isFromElsewhere(request: IncomingMessage): boolean {
  const site = only(request, 'sec-fetch-site');
  return site !== undefined && site !== 'same-origin' && site !== 'none';
}

function cookieOf(request: IncomingMessage, name: string): string | undefined {
  for (const pair of (request.headers.cookie ?? '').split(';')) {
    const at = pair.indexOf('=');
    if (at > 0 && pair.slice(0, at).trim() === name) return pair.slice(at + 1).trim();
  }
  return undefined;
}

/** True when the browser carries the cookie of this session. */
export function isInside(request: IncomingMessage, door: Door): boolean {
  return !isFromElsewhere(request) && sameSecret(cookieOf(request, door.cookieName), door.cookie);
}

function mediaType(request: IncomingMessage): string {
  return (only(request, 'content-type') ?? '').split(';')[0]?.trim().toLowerCase() ?? '';
}

/** Rules for requests that do something: sent by the window's own script, in the one form allowed. */
export function whyNotObeyed(request: IncomingMessage, door: Door, media: string): Refusal | null {
  if (request.method !== 'POST') {
    return refusal(405, 'wrong-method', 'This is asked by POST only.', RELOAD);
  }
  if (!isInside(request, door)) {
    return refusal(403, 'no-session', 'The window does not belong to this session.', RELOAD);
  }
  if (only(request, 'origin') === undefined) {
    return refusal(403, 'foreign-origin', 'The request does not say where it comes from.', RELOAD);
  }
  if (!sameSecret(only(request, 'x-runledger-secret') ?? undefined, door.secret)) {
    return refusal(403, 'no-secret', 'The window lacks the secret of this session.', RELOAD);
  }
  const encoded = only(request, 'content-encoding') !== undefined;
  if (encoded || mediaType(request) !== media) {
    return refusal(415, 'wrong-media', `The body must be ${media}, not packed.`, RELOAD);
  }
  return null;
}
