import { randomSecret, sameSecret } from './secrets.ts';

/** An entry token opens the door once, within this time. */
export const ENTRY_MS = 60_000;

/** Single-use keys in the address the browser is started with; only the latest one counts. */
export class EntryTokens {
  readonly #now: () => number;
  #token: string | null = null;
  #endsAt = 0;

  /** @param now milliseconds of a clock that never goes back */
  constructor(now: () => number = () => performance.now()) {
    this.#now = now;
  }

  mint(): string {
    this.#token = randomSecret();
    this.#endsAt = this.#now() + ENTRY_MS;
    return this.#token;
  }

  /** True once for the latest token, if it comes in time. */
  redeem(given: string | undefined): boolean {
    const token = this.#token;
    if (token === null || !sameSecret(given, token)) return false;
    this.#token = null;
    return this.#now() < this.#endsAt;
  }
}
