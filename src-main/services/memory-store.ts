/** What the host keeps for the window between starts: small texts by key. */
import { z } from 'zod';
import type { Reason } from '../../src-shared/contract/requests.ts';
import { StateFile } from '../projects/state-file.ts';
import { answered, type Refused } from './reasons.ts';

/** Texts kept of one kind (the part of the key before its first dot); the oldest make room. */
const MOST_OF_A_KIND = 200;
/** Of all texts together, as they are written; far below where the file would count as damaged. */
const MOST_BYTES = 4_000_000;

const kept = z.strictObject({
  format: z.literal('runledger-memory'),
  version: z.literal(1),
  texts: z.record(z.string().max(120), z.string().max(100_000)),
});
type Kept = z.infer<typeof kept>;

const empty: Kept = { format: 'runledger-memory', version: 1, texts: {} };

export interface MemoryStore {
  all(): Promise<Readonly<Record<string, string>>>;
  /** Keeps a text; null: forgets it. */
  keep(
    key: string,
    text: string | null,
  ): Promise<{ readonly ok: true; readonly value: object } | Refused>;
}

const kindOf = (key: string) => key.split('.')[0] ?? key;

const bytesOf = (entry: readonly [key: string, text: string]) =>
  Buffer.byteLength(JSON.stringify(entry));

/** The latest of these that fit into the file together. */
function latestThatFit(entries: readonly [string, string][]): readonly [string, string][] {
  let bytes = 0;
  let from = entries.length;
  for (const entry of [...entries].reverse()) {
    bytes += bytesOf(entry);
    if (bytes > MOST_BYTES) break;
    from -= 1;
  }
  return entries.slice(from);
}

/** Texts with one more, the latest last, and the oldest gone where there are too many. */
function withText(texts: Kept['texts'], key: string, text: string | null): Kept['texts'] {
  const others = Object.entries(texts).filter(([name]) => name !== key);
  if (text === null) return Object.fromEntries(others);
  const ofKind = others.filter(([name]) => kindOf(name) === kindOf(key));
  const gone = new Set(ofKind.slice(0, Math.max(0, ofKind.length + 1 - MOST_OF_A_KIND)));
  const left = others.filter((entry) => !gone.has(entry));
  return Object.fromEntries(latestThatFit([...left, [key, text]]));
}

/** @param told told of a damaged file, once it was set aside */
export function createMemoryStore(path: string, told: (reason: Reason) => void): MemoryStore {
  const title = 'The file of choices kept between starts';
  const file = new StateFile({ path, schema: kept, empty, title, told });
  return {
    all: async () => (await file.read()).texts,
    keep: async (key, text) => {
      const saved = await file.change((now) => ({ ...now, texts: withText(now.texts, key, text) }));
      return saved.ok ? answered({}) : saved;
    },
  };
}
