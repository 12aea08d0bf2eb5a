/** What either host sends with the window's page and everything it loads. */

/** Where a page under development may connect besides: the build tool's socket. */
export interface PolicyOptions {
  readonly connectTo: readonly string[];
}

/** The policy of the window's own page. */
export function pagePolicy(
  nonce: string,
  { connectTo }: PolicyOptions = { connectTo: [] },
): string {
  return [
    "default-src 'self'",
    "script-src 'self'",
    `style-src 'self' 'nonce-${nonce}'`,
    "img-src 'self' data:",
    "font-src 'self'",
    ["connect-src 'self'", ...connectTo].join(' '),
    "object-src 'none'",
    "frame-ancestors 'none'",
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
}

const SHUT = "default-src 'none'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'";

/** Headers of every answer. No header of the CORS family is ever among them. */
export const GUARD_HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': SHUT,
  'x-content-type-options': 'nosniff',
  'cache-control': 'no-store',
  'referrer-policy': 'no-referrer',
  'x-frame-options': 'DENY',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
};
