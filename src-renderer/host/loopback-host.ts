import type { Answer, Output, Question, RequestName } from '../../src-shared/contract/requests.ts';
import type { Held, Host } from './host.ts';

const secretHeader = 'x-runledger-secret';
const nameHeader = 'x-runledger-name';

function metaContent(page: Document, name: string): string {
  return page.querySelector(`meta[name="${name}"]`)?.getAttribute('content') ?? '';
}

const outOfReach = {
  ok: false,
  reason: {
    code: 'no-host',
    what: 'The program behind this window does not answer.',
    where: 'this computer',
    todo: 'Start Runledger again; unsaved work is kept in this window and in its recovery copy.',
  },
} as const;

/** The nonce the host's policy allows for style elements; empty outside a host. */
export function styleNonce(page: Document): string {
  const nonce = metaContent(page, 'csp-nonce');
  return nonce.startsWith('%') ? '' : nonce;
}

async function answerOf<T>(request: Promise<Response>): Promise<T | typeof outOfReach> {
  try {
    const response = await request;
    const type = response.headers.get('content-type') ?? '';
    return type.includes('application/json') ? ((await response.json()) as T) : outOfReach;
  } catch {
    return outOfReach;
  }
}

/** A host on 127.0.0.1: JSON requests, one upload address, downloads by id. */
export function connectLoopback(page: Document): Host {
  const secret = metaContent(page, 'runledger-secret');
  return {
    ask: <N extends RequestName>(name: N, question: Question<N>) =>
      answerOf<Answer<N>>(
        fetch(`/api/${name}`, {
          method: 'POST',
          headers: { 'content-type': 'application/json', [secretHeader]: secret },
          body: JSON.stringify(question),
        }),
      ),
    hold: (file: File) =>
      answerOf<Held>(
        fetch('/upload', {
          method: 'POST',
          headers: {
            'content-type': 'application/octet-stream',
            [secretHeader]: secret,
            [nameHeader]: encodeURIComponent(file.name),
          },
          body: file,
        }),
      ),
    deliver: ({ outputId, name }: Output) => {
      const link = page.createElement('a');
      link.href = `/output/${encodeURIComponent(outputId)}`;
      link.download = name;
      page.body.append(link);
      link.click();
      link.remove();
    },
  };
}
