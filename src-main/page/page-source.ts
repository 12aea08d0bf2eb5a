/** Where the window's page comes from: the built files, or under development the build tool. */
import { extname } from 'node:path';
import { type PageFile, type PageFiles, TYPES } from './page-files.ts';

export interface PageSource {
  /** Text of the page, with `%RUNLEDGER_SECRET%` and `%CSP_NONCE%` to be filled in. */
  readonly page: () => Promise<string>;
  /** Everything else by its address, query included; null: there is nothing. */
  readonly file: (address: string) => Promise<PageFile | null>;
  /** Origins the page may connect to besides its own host. */
  readonly connectTo: readonly string[];
}

/** The built window: a fixed map made at start. */
export function builtPages({ page, files }: PageFiles): PageSource {
  return {
    page: async () => page,
    file: async (address) => files.get(address) ?? null,
    connectTo: [],
  };
}

/**
 * The window straight from the build tool's server on this machine, which reloads it when a source
 * changes. Only in a development build.
 * @param origin `http://127.0.0.1:5173`
 */
export function pagesUnderWork(origin: string): PageSource {
  const get = async (address: string) => {
    const answer = await fetch(`${origin}${address}`, { headers: { accept: '*/*' } });
    if (!answer.ok) return null;
    const bytes = new Uint8Array(await answer.arrayBuffer());
    const known = TYPES.get(extname(address.split('?')[0] ?? '').toLowerCase());
    return { type: answer.headers.get('content-type') ?? known ?? 'text/plain', bytes };
  };
  return {
    page: async () => {
      const answer = await fetch(`${origin}/index.html`, { headers: { accept: 'text/html' } });
      return answer.text();
    },
    file: get,
    connectTo: [origin.replace(/^http/, 'ws')],
  };
}

/** Fills in what differs with every loading of the page. */
export function filledPage(
  text: string,
  values: { readonly secret: string; readonly nonce: string },
): string {
  return text
    .replaceAll('%RUNLEDGER_SECRET%', values.secret)
    .replaceAll('%CSP_NONCE%', values.nonce);
}
