import type { Answer, HeldFile } from '../../src-shared/contract/requests.ts';
import { PROJECT_EXTENSION } from '../projects/project-parts.ts';
import { isProjectFile, unpackProject } from '../projects/unpack-project.ts';
import { admitFile } from './admit-file.ts';
import type { DiskFile } from './disk-file.ts';
import { answered, type Refused, refused } from './reasons.ts';
import type { ServiceParts } from './service-parts.ts';

interface Found {
  readonly file: HeldFile;
  readonly bytes: Uint8Array;
  /** The file on the disk it was read from, if it was one. */
  readonly disk: DiskFile | null;
}

type FoundFile = { readonly ok: true; readonly value: Found } | Refused;

async function readFromDisk(disk: DiskFile): Promise<FoundFile> {
  const admitted = await admitFile(disk.path);
  if (!admitted.ok && admitted.reason.code !== 'file-gone') return admitted;
  const read = await disk.read();
  return read.ok ? answered({ file: disk.file, bytes: read.value, disk }) : read;
}

/** Bytes by an id the host gave out: held, known by path, or a recovery copy. */
async function find(parts: ServiceParts, fileId: string): Promise<FoundFile> {
  const held = parts.store.get(fileId);
  if (held !== null) {
    const file = { fileId, name: held.name };
    return answered({ file, bytes: held.bytes, disk: null });
  }
  const disk = parts.disk.get(fileId);
  if (disk !== null) return readFromDisk(disk);
  const copy = await parts.recovery.read(fileId);
  if (copy !== null) {
    const file = { fileId, name: copy.name };
    return answered({ file, bytes: copy.bytes, disk: null });
  }
  return refused('unknown-file', 'The file is not held any more.', 'file', 'Open it again.');
}

/** A container whose end is lost can only be told by its name. */
function isMeantAsProject({ file, bytes }: Found): boolean {
  const zip = bytes[0] === 0x50 && bytes[1] === 0x4b;
  return zip && file.name.toLowerCase().endsWith(PROJECT_EXTENSION);
}

/**
 * A project on the disk was opened: it may be saved in place, by an id of this job's own, since
 * another window may have the same file open.
 */
function openingOf({ disk: files }: ServiceParts, found: Found, isOlder: boolean): DiskFile | null {
  if (found.disk === null) return null;
  const opening = files.opening(found.disk);
  opening.opened(found.bytes, isOlder);
  return opening;
}

/** Holds the workbooks of a project, all or none. */
function holdSources(
  { store }: ServiceParts,
  sources: readonly { readonly name: string; readonly bytes: Uint8Array }[],
): { readonly ok: true; readonly value: readonly HeldFile[] } | Refused {
  const files: HeldFile[] = [];
  for (const { name, bytes } of sources) {
    const held = store.put(name, bytes);
    if (!held.ok) {
      for (const { fileId } of files) store.release(fileId);
      return held;
    }
    files.push(held.file);
  }
  return answered(files);
}

async function openProject(parts: ServiceParts, found: Found): Promise<Answer<'file.open'>> {
  const { file, bytes, disk } = found;
  const unpacked = unpackProject(bytes, file.name);
  if (!unpacked.ok) return unpacked;
  const { migrated, projectText } = unpacked;
  const sources = holdSources(parts, unpacked.sources);
  if (!sources.ok) return sources;
  const opening = openingOf(parts, found, migrated);
  if (disk !== null) await parts.recent.add(disk);
  const writable = (await opening?.isWritable()) ?? false;
  const own = opening?.file ?? file;
  return answered({ kind: 'project', file: own, projectText, sources: sources.value, writable });
}

/**
 * A schedule's bytes are held for the job, so that it saves what was read, whatever becomes of the
 * file on the disk.
 */
async function holdSchedule(
  parts: ServiceParts,
  found: Found,
): Promise<{ readonly ok: true; readonly value: HeldFile } | Refused> {
  if (found.disk === null) return answered(found.file);
  const held = parts.store.put(found.file.name, found.bytes);
  return held.ok ? answered(held.file) : held;
}

/** Reads a file the host holds: a saved project by unpacking it, anything else as a schedule. */
export async function openFile(parts: ServiceParts, fileId: string): Promise<Answer<'file.open'>> {
  const found = await find(parts, fileId);
  if (!found.ok) return found;
  const { file, bytes } = found.value;
  if (isProjectFile(bytes)) return openProject(parts, found.value);
  const outcome = await parts.readSource(bytes, file.name);
  if (!outcome.ok) {
    if (isMeantAsProject(found.value)) return openProject(parts, found.value);
    return { ok: false, reason: outcome.refusal };
  }
  if (outcome.kind === 'project') return openProject(parts, found.value);
  const held = await holdSchedule(parts, found.value);
  if (!held.ok) return held;
  if (found.value.disk !== null) await parts.recent.add(found.value.disk);
  return answered({ kind: 'schedule', file: held.value, workbook: outcome.workbook });
}
