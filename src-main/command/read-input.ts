/** INPUT of the check command: a schedule or a saved project, as a project. */
import { readFile, stat } from 'node:fs/promises';
import path from 'node:path';
import type { Project } from '../../src-shared/document/project.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { unpackProject } from '../projects/unpack-project.ts';
import type { ReadOutcome } from '../workbook/read-file.ts';
import type { CheckOptions } from './check-options.ts';

export type InputOutcome =
  | {
      readonly ok: true;
      readonly project: Project;
      /** The engineer's own workbook, to come back with marks; null: the job did not come from one. */
      readonly workbook: SourceBytes | null;
    }
  | { readonly ok: false; readonly exit: 2 | 3; readonly message: string };

export interface SourceBytes {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Reads a file's bytes; the program does it in a worker that can be ended. */
export type ReadSource = (bytes: Uint8Array, fileName: string) => Promise<ReadOutcome>;

const mostBytes = 300_000_000;

interface Refusal {
  readonly what: string;
  readonly where: string;
  readonly todo: string;
}

/** One sentence each: what, where, what to do. Begins with the file. */
function sentence(file: string, { what, where, todo }: Refusal): string {
  const at = where === '' || where === path.basename(file) ? '' : ` (${where})`;
  return `${file}: ${what}${at} ${todo}`.trimEnd();
}

async function bytesOf(file: string): Promise<Uint8Array | string> {
  try {
    const info = await stat(file);
    if (info.isDirectory())
      return 'is a folder, not a file. Name a schedule (.xlsx, .csv) or a saved project.';
    if (info.size > mostBytes)
      return 'is over 300 MB. Take out what is not the schedule and try again.';
    return await readFile(file);
  } catch (problem) {
    const code = (problem as NodeJS.ErrnoException).code ?? '';
    if (code === 'ENOENT' || code === 'ENOTDIR')
      return 'there is no such file. Check the name and the folder.';
    if (code === 'EACCES' || code === 'EPERM') return 'may not be read. Check who may read it.';
    return `cannot be read (${code || 'unknown cause'}). Check the disk and the name.`;
  }
}

/** A workbook that is a zip package; a csv file is none. */
function isPackage(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b;
}

function fromProjectFile(bytes: Uint8Array, options: CheckOptions): InputOutcome {
  const [word] = options.scheduleWords;
  if (word !== undefined) {
    return {
      ok: false,
      exit: 2,
      message: `--${word}: only for a schedule; ${options.input} is a saved project.`,
    };
  }
  const unpacked = unpackProject(bytes, path.basename(options.input));
  if (!unpacked.ok)
    return { ok: false, exit: 3, message: sentence(options.input, unpacked.reason) };
  const [first] = unpacked.sources;
  const workbook = first === undefined || !isPackage(first.bytes) ? null : first;
  return { ok: true, project: unpacked.project, workbook };
}

/** Reads INPUT; relative paths count from `cwd`. A file is refused as a whole, a cell never is. */
export async function readInput(
  options: CheckOptions,
  cwd: string,
  readSource: ReadSource,
): Promise<InputOutcome> {
  const file = path.resolve(cwd, options.input);
  const bytes = await bytesOf(file);
  if (typeof bytes === 'string')
    return { ok: false, exit: 3, message: `${options.input}: ${bytes}` };
  const read = await readSource(bytes, path.basename(file));
  if (!read.ok) return { ok: false, exit: 3, message: sentence(options.input, read.refusal) };
  if (read.kind === 'project') return fromProjectFile(bytes, options);
  const schedule = readSchedule(read.workbook, {
    ...(options.sheet === null ? {} : { sheet: options.sheet }),
    ...(options.headerRow === null ? {} : { headerRow: options.headerRow }),
    map: options.map,
    hidden: options.hidden,
    ...(options.profile === null ? {} : { profile: options.profile }),
  });
  if (schedule.ok) {
    const workbook = isPackage(bytes) ? { name: path.basename(file), bytes } : null;
    return { ok: true, project: schedule.project, workbook };
  }
  const { refusal } = schedule;
  if (refusal.code !== 'bad-option')
    return { ok: false, exit: 3, message: sentence(options.input, refusal) };
  return {
    ok: false,
    exit: 2,
    message: `${refusal.where}: ${refusal.what} ${refusal.todo}`.trimEnd(),
  };
}
