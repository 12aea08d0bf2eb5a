import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Handlers } from '../../src-shared/contract/requests.ts';
import { GUARD_HEADERS } from '../page/page-policy.ts';
import type { PageSource } from '../page/page-source.ts';
import type { FileStore } from '../services/file-store.ts';
import { EntryTokens } from './entry-tokens.ts';
import { replyRefused } from './reply.ts';
import { createRoutes } from './routes.ts';
import { randomSecret } from './secrets.ts';

export interface LoopbackParts {
  readonly handlers: Handlers;
  readonly store: FileStore;
  readonly pages: PageSource;
  /** Someone at the terminal can ask for a new address. */
  readonly canMint?: boolean;
  /** For the entry tokens: milliseconds of a clock that never goes back. */
  readonly now?: () => number;
}

export interface LoopbackHost {
  readonly port: number;
  /** A fresh address that lets one browser in, once, within a minute; older ones end. */
  mintAddress(): string;
  /** Ends every connection and stops listening. */
  close(): Promise<void>;
}

/** Limits on what one connection may take: bytes of headers, time, requests, connections. */
const LIMITS = {
  headerBytes: 16_384,
  headerCount: 100,
  headersMs: 10_000,
  requestMs: 60_000,
  idleMs: 10_000,
  connections: 64,
} as const;

function plainAnswer(status: string): string {
  const headers = { ...GUARD_HEADERS, connection: 'close', 'content-length': '0' };
  const lines = Object.entries(headers).map(([name, value]) => `${name}: ${value}\r\n`);
  return `HTTP/1.1 ${status}\r\n${lines.join('')}\r\n`;
}

function harden(server: Server): void {
  server.maxHeadersCount = LIMITS.headerCount;
  server.maxConnections = LIMITS.connections;
  server.headersTimeout = LIMITS.headersMs;
  server.requestTimeout = LIMITS.requestMs;
  server.keepAliveTimeout = LIMITS.idleMs;
  server.on('clientError', (fault: NodeJS.ErrnoException, socket) => {
    if (!socket.writable) return socket.destroy();
    const statuses: Readonly<Record<string, string>> = {
      HPE_HEADER_OVERFLOW: '431 Request Header Fields Too Large',
      ERR_HTTP_REQUEST_TIMEOUT: '408 Request Timeout',
    };
    socket.end(plainAnswer(statuses[fault.code ?? ''] ?? '400 Bad Request'));
  });
  // Nothing here speaks another protocol or passes connections on.
  server.on('upgrade', (_request, socket) => socket.end(plainAnswer('400 Bad Request')));
  server.on('connect', (_request, socket) => socket.end(plainAnswer('405 Method Not Allowed')));
}

function listen(server: Server): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen({ host: '127.0.0.1', port: 0 }, () => {
      server.off('error', reject);
      resolve((server.address() as AddressInfo).port);
    });
  });
}

/**
 * Serves the window on 127.0.0.1 and a port the system chooses. Only a browser that came in by a
 * minted address is shown anything; only the window's own script can make it do anything.
 * Rejects when no port can be had.
 */
export async function startLoopbackHost(parts: LoopbackParts): Promise<LoopbackHost> {
  const { handlers, store, pages, canMint = false, now } = parts;
  const server = createServer({
    maxHeaderSize: LIMITS.headerBytes,
    connectionsCheckingInterval: 2_000,
  });
  harden(server);
  const port = await listen(server);
  const host = `127.0.0.1:${port}`;
  const tokens = new EntryTokens(now);
  // Cookies do not tell ports apart, so the name does: two sessions live side by side.
  const door = {
    host,
    cookieName: `runledger-${port}`,
    cookie: randomSecret(),
    secret: randomSecret(),
  };
  const routes = createRoutes({ door, tokens, pages, handlers, store, canMint });
  server.on('request', (request, response) => {
    Promise.resolve(routes(request, response)).catch((fault: unknown) => {
      const what = fault instanceof Error ? fault.message : String(fault);
      if (response.headersSent) return response.destroy();
      replyRefused(response, 500, {
        code: 'fault',
        what: `A fault of ours: ${what}`,
        where: 'loopback host',
        todo: 'Save your work under a new name and report this.',
      });
    });
  });
  return {
    port,
    mintAddress: () => `http://${host}/enter?key=${tokens.mint()}`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}
