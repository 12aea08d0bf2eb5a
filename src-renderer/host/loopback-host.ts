import type { Answer, Left, Question, RequestName } from '../../src-shared/contract/requests.ts';
import { chooseInPage } from './choose-in-page.ts';
import { type Held, type Host, outOfReach } from './host.ts';

const secretHeader = 'x-runledger-secret';
const nameHeader = 'x-runledger-name';

async function answerOf<T>(request: Promise<Response>): Promise<T | typeof outOfReach> {
  try {
    const response = await request;
    const type = response.headers.get('content-type') ?? '';
    return type.includes('application/json') ? ((await response.json()) as T) : outOfReach;
  } catch {
    return outOfReach;
  }
}

function download(page: Document, left: Left): void {
  if (left.saved !== 'output') return;
  const { outputId, name } = left.output;
  const link = page.createElement('a');
  link.href = `/output/${encodeURIComponent(outputId)}`;
  link.download = name;
  page.body.append(link);
  link.click();
  link.remove();
}

/** Prints; done when the browser's dialog is closed, or soon where the browser opens none. */
function printed(page: Document): Promise<void> {
  const view = page.defaultView;
  if (view === null) return Promise.resolve();
  return new Promise((done) => {
    const noDialog = setTimeout(done, 1_000);
    view.addEventListener('beforeprint', () => clearTimeout(noDialog), { once: true });
    view.addEventListener('afterprint', () => done(), { once: true });
    view.print();
  });
}

/** A host on 127.0.0.1: JSON requests, one upload address, downloads by id. */
export function connectLoopback(page: Document): Host {
  const secret = page.querySelector('meta[name="runledger-secret"]')?.getAttribute('content') ?? '';
  const hold = (file: File) =>
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
    );
  return {
    kind: 'loopback',
    ask: <N extends RequestName>(name: N, question: Question<N>) =>
      answerOf<Answer<N>>(
        fetch(`/api/${name}`, {
          method: 'POST',
          headers: { 'content-type': 'application/json', [secretHeader]: secret },
          body: JSON.stringify(question),
        }),
      ),
    hold,
    choose: async (what) => {
      const file = await chooseInPage(page, what);
      return file === null ? { ok: true, value: null } : hold(file);
    },
    deliver: (left) => download(page, left),
    print: async () => {
      await printed(page);
      return { ok: true, value: {} };
    },
    onEvent: () => () => undefined,
  };
}
