import type { IncomingMessage } from 'node:http';
import type { Refusal } from './request-rules.ts';

export type Body =
  | { readonly ok: true; readonly bytes: Buffer }
  | ({ readonly ok: false } & Refusal);

/** A question, at most, in bytes; an upload may have as many as a file of its name. */
export const JSON_BYTES = 250_000_000;

function tooLarge(limit: number): Body {
  return {
    ok: false,
    status: 413,
    reason: {
      code: 'too-large',
      what: `This is more than the ${limit / 1e6} MB the host takes in at once.`,
      where: 'file',
      todo: 'Keep the schedule and its legend in a workbook of their own and open that.',
    },
  };
}

function cutShort(): Body {
  const what = 'The request broke off.';
  return {
    ok: false,
    status: 400,
    reason: { code: 'cut-off', what, where: 'loopback host', todo: 'Try again.' },
  };
}

/**
 * Reads a body whole, or says why not. Of one that is too large no more than `limit` bytes are held;
 * the rest is read and thrown away, so that the answer arrives. Does not reject.
 */
export function readBody(request: IncomingMessage, limit: number): Promise<Body> {
  return new Promise((resolve) => {
    let chunks: Buffer[] = [];
    let size = 0;
    request.on('data', (chunk: Buffer) => {
      size += chunk.length;
      if (size <= limit) chunks.push(chunk);
      else chunks = [];
    });
    request.once('end', () => {
      resolve(size > limit ? tooLarge(limit) : { ok: true, bytes: Buffer.concat(chunks, size) });
    });
    request.once('error', () => resolve(cutShort()));
    request.once('close', () => resolve(cutShort()));
  });
}
