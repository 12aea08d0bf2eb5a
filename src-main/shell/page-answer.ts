/** What the shell's own protocol answers: the page with its policy, its files, nothing else. */
import { randomBytes } from 'node:crypto';
import { GUARD_HEADERS, pagePolicy } from '../page/page-policy.ts';
import { filledPage, type PageSource } from '../page/page-source.ts';
import { isOwnAddress } from './own-address.ts';

export interface PageAnswer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string | Uint8Array;
}

const nothing = (status: number): PageAnswer => ({ status, headers: GUARD_HEADERS, body: '' });

/** Answers a request by its address; only GET, only addresses of the window. */
export async function answerPage(
  source: PageSource,
  request: { readonly url: string; readonly method: string },
): Promise<PageAnswer> {
  if (!isOwnAddress(request.url)) return nothing(404);
  if (request.method !== 'GET') return nothing(405);
  const { pathname, search } = new URL(request.url);
  if (pathname === '/' && search === '') {
    const nonce = randomBytes(32).toString('base64url');
    const headers = {
      ...GUARD_HEADERS,
      'content-type': 'text/html; charset=utf-8',
      'content-security-policy': pagePolicy(nonce, source),
    };
    return { status: 200, headers, body: filledPage(await source.page(), { secret: '', nonce }) };
  }
  const file = await source.file(pathname + search);
  if (file === null) return nothing(404);
  return {
    status: 200,
    headers: { ...GUARD_HEADERS, 'content-type': file.type },
    body: file.bytes,
  };
}
