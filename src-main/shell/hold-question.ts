/** What the preload script hands over for a file the user dropped or chose: a path, or bytes. */
import { z } from 'zod';
import type { HeldFile } from '../../src-shared/contract/requests.ts';
import { FILE_BYTES } from '../services/admit-file.ts';
import type { DiskFiles } from '../services/disk-files.ts';
import type { FileStore } from '../services/file-store.ts';
import { answered, type Refused, refused } from '../services/reasons.ts';

const question = z.union([
  z.strictObject({ path: z.string().min(1).max(4096) }),
  z.strictObject({
    name: z.string().min(1).max(255),
    bytes: z.instanceof(Uint8Array).refine((bytes) => bytes.length <= FILE_BYTES, {
      message: `This is more than the ${FILE_BYTES / 1e6} MB taken in at once.`,
    }),
  }),
]);

export interface HoldPlaces {
  readonly disk: DiskFiles;
  readonly store: FileStore;
}

/** Takes a file in under an opaque id: known by path where it has one, else held in memory. */
export async function holdFile(
  { disk, store }: HoldPlaces,
  asked: unknown,
): Promise<{ readonly ok: true; readonly value: HeldFile } | Refused> {
  const read = question.safeParse(asked);
  if (!read.success) {
    const what = read.error.issues[0]?.message ?? 'The file is not handed over in its form.';
    return refused('bad-request', what, 'desktop shell', 'Open the file by the File menu.');
  }
  if ('path' in read.data) return disk.admit(read.data.path);
  const { name, bytes } = read.data;
  const held = store.put(name.split(/[\\/]/).pop() || 'file', bytes);
  return held.ok ? answered(held.file) : held;
}
