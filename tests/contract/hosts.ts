/** The ways to the services: straight, and through the loopback host as the window goes. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type LoopbackHost, startLoopbackHost } from '../../src-main/loopback/server.ts';
import { builtPages } from '../../src-main/page/page-source.ts';
import { browserFrame } from '../../src-main/services/frame.ts';
import { type CommonParts, makeHostParts } from '../../src-main/services/host-parts.ts';
import { leaveAsDownload } from '../../src-main/services/leave-file.ts';
import { createServices } from '../../src-main/services/services.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { answerRequest } from '../../src-shared/contract/answer-request.ts';
import type {
  Answer,
  Handlers,
  HeldFile,
  Left,
  Question,
  RequestName,
} from '../../src-shared/contract/requests.ts';
import { writeProject } from '../../src-shared/format/project-json.ts';
import { send } from './http-client.ts';

export interface Caller {
  ask<N extends RequestName>(name: N, question: Question<N>): Promise<Answer<N>>;
  /** A body of any form. */
  askRaw(name: string, body: unknown): Promise<unknown>;
  upload(name: string, bytes: Uint8Array): Promise<HeldFile>;
  /** The bytes that left. */
  arrived(left: Left): Promise<Uint8Array>;
}

export interface Bench {
  readonly folder: string;
  readonly parts: CommonParts;
  readonly store: CommonParts['store'];
  readonly handlers: Handlers;
  readonly warnings: string[];
  remove(): void;
}

export interface BenchOptions {
  readonly launchPath?: string;
  readonly startWithDemo?: boolean;
  readonly folder?: string;
}

const demoPath = fileURLToPath(
  new URL('../../src-main/demo/foxglove-roundhouse.xlsx', import.meta.url),
);

/**
 * What both hosts have, with a state folder of its own. The workbook written is that of the test:
 * the project's text, after the source's bytes where our marks go into one.
 */
export function makeParts(folder: string, warnings: string[]): CommonParts {
  return {
    ...makeHostParts({
      version: '0.1.0',
      stateFolder: folder,
      demoPath,
      warn: (message) => warnings.push(message),
    }),
    demo: async () => new Uint8Array(readFileSync(demoPath)),
    readSource: async (bytes, name) => readSourceFile(bytes, name),
    exportWorkbook: async (project) => new Uint8Array(Buffer.from(writeProject(project))),
    markUpWorkbook: async (source, fileName, project, { file }) => {
      if (project.name === 'refuse') {
        const reason = { code: 'cannot-mark-up', what: 'No.', where: fileName, todo: 'Else.' };
        return { ok: false, reason };
      }
      const text = Buffer.from(`${file} ${fileName} ${writeProject(project)}`);
      return {
        ok: true,
        bytes: Buffer.concat([source, text]),
        remarks: ['One row was not found.'],
      };
    },
  };
}

/** Services as the loopback host has them. */
export function makeBench(options: BenchOptions = {}): Bench {
  const { launchPath, startWithDemo = false } = options;
  const folder = options.folder ?? mkdtempSync(join(tmpdir(), 'runledger-contract-'));
  const warnings: string[] = [];
  const parts = makeParts(folder, warnings);
  const launchFile = launchPath === undefined ? null : parts.disk.at(launchPath).file;
  const handlers = createServices({
    ...parts,
    host: 'loopback',
    leave: leaveAsDownload(parts.store),
    frame: browserFrame,
    launchFile: () => launchFile,
    startWithDemo,
  });
  const remove = () => rmSync(folder, { recursive: true, force: true });
  return { folder, parts, store: parts.store, handlers, warnings, remove };
}

/** Straight to the services, by the same border. */
export function directCaller({ handlers, store }: Bench): Caller {
  const askRaw = async (name: string, body: unknown) =>
    JSON.parse(JSON.stringify(await answerRequest(handlers, name, body)));
  return {
    ask: (name, question) => askRaw(name, question),
    askRaw,
    upload: async (name, bytes) => {
      const held = store.put(name, bytes);
      if (!held.ok) throw new Error(held.reason.what);
      return held.file;
    },
    arrived: async (left) => {
      const output = left.saved === 'output' ? store.getOutput(left.output.outputId) : null;
      if (output === null) throw new Error('no output');
      return output.bytes;
    },
  };
}

export const pages = builtPages({
  page: '<!doctype html><meta name="runledger-secret" content="%RUNLEDGER_SECRET%"><style nonce="%CSP_NONCE%"></style>',
  files: new Map([
    ['/assets/window.js', { type: 'text/javascript; charset=utf-8', bytes: Buffer.from('let x;') }],
  ]),
});

export interface Session {
  readonly host: LoopbackHost;
  readonly origin: string;
  readonly cookie: string;
  readonly secret: string;
}

export function startHost({ handlers, store }: Bench, now?: () => number): Promise<LoopbackHost> {
  return startLoopbackHost({ handlers, store, pages, ...(now && { now }) });
}

/** Comes in as a browser does: the minted address, its cookie, the secret from the page. */
export async function enter(host: LoopbackHost): Promise<Session> {
  const { pathname, search, origin } = new URL(host.mintAddress());
  const entered = await send(host.port, { path: pathname + search });
  const cookie = String(entered.headers['set-cookie']).split(';')[0] ?? '';
  const page = await send(host.port, { path: '/', headers: { cookie } });
  const secret = /runledger-secret" content="([^"]+)"/.exec(page.body.toString())?.[1] ?? '';
  return { host, origin, cookie, secret };
}

/** The headers of the window's own script. */
export function windowHeaders({ origin, cookie, secret }: Session, media = 'application/json') {
  return { origin, cookie, 'x-runledger-secret': secret, 'content-type': media };
}

/** Through the loopback host, as the window asks. */
export function loopbackCaller(session: Session): Caller {
  const { port } = session.host;
  const askRaw = async (name: string, body: unknown) => {
    const got = await send(port, {
      method: 'POST',
      path: `/api/${name}`,
      headers: windowHeaders(session),
      body: JSON.stringify(body),
    });
    return JSON.parse(got.body.toString());
  };
  return {
    ask: (name, question) => askRaw(name, question),
    askRaw,
    upload: async (name, bytes) => {
      const headers = {
        ...windowHeaders(session, 'application/octet-stream'),
        'x-runledger-name': encodeURIComponent(name),
      };
      const got = await send(port, { method: 'POST', path: '/upload', headers, body: bytes });
      const answer = JSON.parse(got.body.toString());
      if (!answer.ok) throw new Error(answer.reason.what);
      return answer.value;
    },
    arrived: async (left) => {
      if (left.saved !== 'output') throw new Error(left.saved);
      const path = `/output/${left.output.outputId}`;
      const got = await send(port, { path, headers: { cookie: session.cookie } });
      if (got.status !== 200) throw new Error('no output');
      return new Uint8Array(got.body);
    },
  };
}
