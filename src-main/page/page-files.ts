/** The built window as a fixed map made at start: no request ever becomes a path on the disk. */
import { readdir, readFile } from 'node:fs/promises';
import { extname, join, relative, sep } from 'node:path';

export interface PageFile {
  readonly type: string;
  readonly bytes: Uint8Array;
}

export interface PageFiles {
  /** Text of the page, with `%RUNLEDGER_SECRET%` and `%CSP_NONCE%` to be filled in. */
  readonly page: string;
  /** Everything else by its address: `/assets/index-1a2b.js`. */
  readonly files: ReadonlyMap<string, PageFile>;
}

/** Kinds of file a page may need, by extension. */
export const TYPES: ReadonlyMap<string, string> = new Map([
  ['.js', 'text/javascript; charset=utf-8'],
  ['.css', 'text/css; charset=utf-8'],
  ['.svg', 'image/svg+xml'],
  ['.png', 'image/png'],
  ['.ico', 'image/x-icon'],
  ['.woff2', 'font/woff2'],
  ['.woff', 'font/woff'],
  ['.json', 'application/json'],
  ['.webmanifest', 'application/manifest+json'],
  ['.txt', 'text/plain; charset=utf-8'],
]);

const PAGE = '/index.html';

/**
 * Reads a folder of built files; kinds that a page does not need are left out.
 * @throws Error when the folder has no index.html
 */
export async function readPageFiles(folder: string): Promise<PageFiles> {
  const files = new Map<string, PageFile>();
  let page: string | null = null;
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    const address = `/${relative(folder, path).split(sep).map(encodeURIComponent).join('/')}`;
    if (address === PAGE) page = await readFile(path, 'utf8');
    const type = TYPES.get(extname(entry.name).toLowerCase());
    if (type !== undefined) files.set(address, { type, bytes: await readFile(path) });
  }
  if (page === null) throw new Error('The built window has no index.html.');
  return { page, files };
}
