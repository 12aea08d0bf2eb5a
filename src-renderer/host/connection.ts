/** The host this window talks to; set once at start. */
import type { Host } from './host.ts';

export interface Connection {
  readonly host: Host;
  /** Allows style elements the grid makes; empty where no policy asks for one. */
  readonly nonce: string;
}

let current: Connection | null = null;

export function connect(connection: Connection): void {
  current = connection;
}

/** Throws before `connect`: a fault of ours. */
export function connection(): Connection {
  if (current === null) throw new Error('no host yet');
  return current;
}
