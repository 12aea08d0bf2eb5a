/** Outputs of the check command: all or none, each replaced only whole. */
import { randomBytes } from 'node:crypto';
import { open, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';

export interface OutputFile {
  /** The option that names it, for messages. */
  readonly option: '--json' | '--out';
  /** As the user wrote it. */
  readonly written: string;
  readonly file: string;
  readonly mayReplace: boolean;
}

async function identity(file: string): Promise<string | null> {
  try {
    const { dev, ino } = await stat(file);
    return `${dev}:${ino}`;
  } catch {
    return null;
  }
}

/** Why an output cannot be written there; null when nothing speaks against it yet. */
export async function whyNotThere(output: OutputFile, input: string): Promise<string | null> {
  const name = `${output.option} ${output.written}`;
  if (path.resolve(output.file) === path.resolve(input))
    return `${name}: that is INPUT itself. Give another name.`;
  const there = await identity(output.file);
  if (there !== null && there === (await identity(input)))
    return `${name}: that is INPUT itself. Give another name.`;
  const folder = await stat(path.dirname(output.file)).catch(() => null);
  if (folder === null || !folder.isDirectory())
    return `${name}: there is no folder ${path.dirname(output.written)}. Make it or name another.`;
  const info = await stat(output.file).catch(() => null);
  if (info?.isDirectory() === true) return `${name}: is a folder. Give a file name.`;
  if (info !== null && !output.mayReplace)
    return `${name}: stands there already. Add --force to replace it, or give another name.`;
  return null;
}

/** Where an output really goes: behind a link; and whether that is a file to be replaced or a device or pipe to be written to. */
async function targetOf(
  file: string,
): Promise<{ file: string; mode: number | null; stream: boolean }> {
  const real = await realpath(file).catch(() => file);
  const info = await stat(real).catch(() => null);
  if (info === null) return { file: real, mode: null, stream: false };
  return { file: real, mode: info.mode & 0o777, stream: !info.isFile() };
}

async function writeTemporary(
  file: string,
  mode: number | null,
  content: Uint8Array | string,
): Promise<string> {
  const temporary = path.join(
    path.dirname(file),
    `.${path.basename(file)}.${randomBytes(6).toString('hex')}.tmp`,
  );
  const handle = await open(temporary, 'wx', 0o666);
  try {
    if (mode !== null) await handle.chmod(mode);
    await handle.writeFile(content);
    await handle.sync();
  } catch (problem) {
    await handle.close();
    await rm(temporary, { force: true });
    throw problem;
  }
  await handle.close();
  return temporary;
}

/** Writes all outputs to temporaries first, then renames them; a device or pipe is written to. Gives a message when that fails; then none is left behind. */
export async function writeAll(
  outputs: readonly { readonly output: OutputFile; readonly content: Uint8Array | string }[],
): Promise<string | null> {
  const ready: { output: OutputFile; file: string; temporary: string }[] = [];
  let current = outputs[0]?.output;
  try {
    for (const { output, content } of outputs) {
      current = output;
      const { file, mode, stream } = await targetOf(output.file);
      if (stream) await writeFile(file, content);
      else ready.push({ output, file, temporary: await writeTemporary(file, mode, content) });
    }
    for (const { output, file, temporary } of ready) {
      current = output;
      await rename(temporary, file);
    }
    return null;
  } catch (problem) {
    for (const { temporary } of ready) await rm(temporary, { force: true });
    const code = (problem as NodeJS.ErrnoException).code ?? 'unknown cause';
    const why =
      code === 'ENOSPC'
        ? 'the disk is full'
        : code === 'EACCES' || code === 'EPERM' || code === 'EROFS'
          ? 'the folder may not be written to'
          : code;
    return `${current?.option} ${current?.written}: cannot be written (${why}). Name another place.`;
  }
}
