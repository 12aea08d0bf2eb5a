/** The nonce the host's policy allows for style elements; empty outside a host. */
export function styleNonce(page: Document): string {
  const nonce = page.querySelector('meta[name="csp-nonce"]')?.getAttribute('content') ?? '';
  return nonce.startsWith('%') ? '' : nonce;
}
