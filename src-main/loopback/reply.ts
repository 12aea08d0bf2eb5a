/** Every answer goes through here, so that none lacks the headers that keep other pages out. */
import type { ServerResponse } from 'node:http';
import type { Reason } from '../../src-shared/contract/requests.ts';
import { GUARD_HEADERS } from '../page/page-policy.ts';

export function reply(
  response: ServerResponse,
  status: number,
  headers: Readonly<Record<string, string>>,
  body: string | Uint8Array = '',
): void {
  const bytes = typeof body === 'string' ? Buffer.from(body, 'utf8') : body;
  response.writeHead(status, { ...GUARD_HEADERS, ...headers, 'content-length': bytes.length });
  response.end(bytes);
}

export function replyJson(response: ServerResponse, status: number, value: unknown): void {
  reply(response, status, { 'content-type': 'application/json' }, JSON.stringify(value));
}

/** A request the host does not let in: the same form as any other answer with a reason. */
export function replyRefused(response: ServerResponse, status: number, reason: Reason): void {
  // What is left of the body is not read: the connection ends with the answer.
  response.setHeader('connection', 'close');
  replyJson(response, status, { ok: false, reason });
}
