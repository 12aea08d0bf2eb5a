import { resolve } from 'node:path';
import type { HeldFile } from '../../src-shared/contract/requests.ts';
import type { DiskFiles } from './disk-files.ts';

export type NamedFile =
  | { readonly ok: true; readonly file: HeldFile }
  | { readonly ok: false; readonly message: string };

/** The file named on the command line; a relative path counts from where the user stood. */
export async function findNamedFile(
  disk: DiskFiles,
  written: string,
  cwd: string,
): Promise<NamedFile> {
  const admitted = await disk.admit(resolve(cwd, written), written);
  if (admitted.ok) return { ok: true, file: admitted.value };
  const { what, todo } = admitted.reason;
  return { ok: false, message: `${what} ${todo}` };
}
