import type { IncomingMessage, ServerResponse } from 'node:http';
import { answerRequest } from '../../src-shared/contract/answer-request.ts';
import {
  type Handlers,
  isRequestName,
  requestSchemas,
} from '../../src-shared/contract/requests.ts';
import { pagePolicy } from '../page/page-policy.ts';
import { filledPage, type PageSource } from '../page/page-source.ts';
import { mostBytes } from '../services/admit-file.ts';
import type { FileStore } from '../services/file-store.ts';
import { attachment, uploadName } from './downloads.ts';
import type { EntryTokens } from './entry-tokens.ts';
import { howToEnter, noticePage } from './notice-page.ts';
import { JSON_BYTES, readBody } from './read-body.ts';
import { reply, replyJson, replyRefused } from './reply.ts';
import { type Door, isInside, whyNotHeard, whyNotObeyed } from './request-rules.ts';
import { randomSecret } from './secrets.ts';

export interface RouteParts {
  readonly door: Door;
  readonly tokens: EntryTokens;
  readonly pages: PageSource;
  readonly handlers: Handlers;
  readonly store: FileStore;
  /** Someone at the terminal can ask for a new address. */
  readonly canMint: boolean;
}

type Route = (request: IncomingMessage, response: ServerResponse) => Promise<void> | void;

const HTML = { 'content-type': 'text/html; charset=utf-8' };
const BAD_JSON = {
  code: 'bad-request',
  what: 'The request is not JSON.',
  where: 'window',
  todo: 'Reload the window.',
};
const NO_NAME = {
  code: 'bad-request',
  what: 'The upload does not say its name.',
  where: 'window',
  todo: 'Reload the window.',
};

function apiRoute(parts: RouteParts, name: string): Route {
  return async (request, response) => {
    const refusal = whyNotObeyed(request, parts.door, 'application/json');
    if (refusal) return replyRefused(response, refusal.status, refusal.reason);
    const body = await readBody(request, JSON_BYTES);
    if (!body.ok) return replyRefused(response, body.status, body.reason);
    let question: unknown;
    try {
      question = JSON.parse(body.bytes.toString('utf8'));
    } catch {
      return replyRefused(response, 400, BAD_JSON);
    }
    replyJson(response, 200, await answerRequest(parts.handlers, name, question));
  };
}

function uploadRoute(parts: RouteParts): Route {
  return async (request, response) => {
    const refusal = whyNotObeyed(request, parts.door, 'application/octet-stream');
    if (refusal) return replyRefused(response, refusal.status, refusal.reason);
    const name = uploadName(request.headers['x-runledger-name']);
    if (name === null) return replyRefused(response, 400, NO_NAME);
    const body = await readBody(request, mostBytes(name));
    if (!body.ok) return replyRefused(response, body.status, body.reason);
    const held = parts.store.put(name, body.bytes);
    replyJson(response, 200, held.ok ? { ok: true, value: held.file } : held);
  };
}

function entryRoute({ door, tokens, canMint }: RouteParts): Route {
  return (request, response) => {
    const key = new URLSearchParams((request.url ?? '').split('?')[1] ?? '').get('key');
    if (!tokens.redeem(key ?? undefined)) {
      // A reload of the entry address by someone who is inside is not turned away.
      if (isInside(request, door)) return reply(response, 303, { location: '/' });
      return reply(response, 403, HTML, noticePage(howToEnter(canMint)));
    }
    const cookie = `${door.cookieName}=${door.cookie}; HttpOnly; SameSite=Strict; Path=/`;
    reply(response, 303, { location: '/', 'set-cookie': cookie });
  };
}

function pageRoute({ door, pages }: RouteParts): Route {
  return async (_request, response) => {
    const nonce = randomSecret();
    const page = filledPage(await pages.page(), { secret: door.secret, nonce });
    reply(response, 200, { ...HTML, 'content-security-policy': pagePolicy(nonce, pages) }, page);
  };
}

function outputRoute({ store }: RouteParts): Route {
  return (request, response) => {
    const output = store.getOutput((request.url ?? '').slice('/output/'.length));
    if (output === null) {
      return reply(response, 404, HTML, noticePage('This file is not held any more: save again.'));
    }
    const type = 'application/octet-stream';
    const disposition = attachment(output.name);
    reply(
      response,
      200,
      { 'content-type': type, 'content-disposition': disposition },
      output.bytes,
    );
  };
}

/** Answers every request of the loopback host. */
export function createRoutes(parts: RouteParts): Route {
  const actions = new Map<string, Route>([['/upload', uploadRoute(parts)]]);
  for (const name of Object.keys(requestSchemas)) {
    if (isRequestName(name)) actions.set(`/api/${name}`, apiRoute(parts, name));
  }
  const page = pageRoute(parts);
  const enter = entryRoute(parts);
  const output = outputRoute(parts);
  return async (request, response) => {
    const refusal = whyNotHeard(request, parts.door);
    if (refusal) return replyRefused(response, refusal.status, refusal.reason);
    const url = request.url ?? '';
    const action = actions.get(url);
    if (action !== undefined) return action(request, response);
    if (request.method !== 'GET') {
      return reply(response, 405, { allow: 'GET', connection: 'close' });
    }
    if (url.split('?')[0] === '/enter') return enter(request, response);
    if (!isInside(request, parts.door)) {
      return reply(response, 403, HTML, noticePage(howToEnter(parts.canMint)));
    }
    if (url === '/') return page(request, response);
    if (url.startsWith('/output/')) return output(request, response);
    const file = await parts.pages.file(url);
    if (file !== null) return reply(response, 200, { 'content-type': file.type }, file.bytes);
    reply(response, 404, HTML, noticePage('There is nothing at this address.'));
  };
}
