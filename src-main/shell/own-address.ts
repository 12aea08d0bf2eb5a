/** The window's own address, and what counts as belonging to it. */

export const SCHEME = 'runledger';
const HOST = 'window';
export const WINDOW_ADDRESS = `${SCHEME}://${HOST}/`;

/** Addresses outside that may be opened in the system's browser, exactly as they stand. None so far. */
export const OUTSIDE_ADDRESSES: readonly string[] = [];

function parsed(address: string): URL | null {
  try {
    return new URL(address);
  } catch {
    return null;
  }
}

/** True for the page itself and every file of it. */
export function isOwnAddress(address: string): boolean {
  const url = parsed(address);
  if (url === null || url.protocol !== `${SCHEME}:` || url.host !== HOST) return false;
  return url.username === '' && url.password === '';
}

/** True for the page itself, whatever its fragment. */
export function isOwnPage(address: string): boolean {
  const url = parsed(address);
  return isOwnAddress(address) && url?.pathname === '/' && url.search === '';
}

/**
 * True for what the window may load: its own files, images in the page's own text, and under
 * development the build tool's socket and the developer tools.
 * @param connectTo origins of that socket, `ws://127.0.0.1:5173`
 */
export function mayLoad(address: string, connectTo: readonly string[] = []): boolean {
  if (isOwnAddress(address)) return true;
  const url = parsed(address);
  if (url === null) return false;
  if (url.protocol === 'data:') return true;
  if (url.protocol === 'devtools:') return connectTo.length > 0;
  return url.protocol === 'ws:' && connectTo.includes(url.origin);
}

/** True for an https address of the list, exactly. */
export function mayOpenOutside(
  address: string,
  list: readonly string[] = OUTSIDE_ADDRESSES,
): boolean {
  return parsed(address)?.protocol === 'https:' && list.includes(address);
}
