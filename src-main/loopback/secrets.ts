import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** 256 random bits as text for a header, a cookie or an address. */
export function randomSecret(): string {
  return randomBytes(32).toString('base64url');
}

/** Compares in a time that does not tell how much was right. */
export function sameSecret(given: string | undefined, secret: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(given ?? ''), digest(secret)) && given !== undefined;
}
