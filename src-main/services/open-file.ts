import type { Answer, HeldFile, OpenedFile } from '../../src-shared/contract/requests.ts';
import { PROJECT_EXTENSION } from '../projects/project-parts.ts';
import { isProjectFile, unpackProject } from '../projects/unpack-project.ts';
import { answered, type Refused, refused } from './reasons.ts';
import type { ServiceParts } from './service-parts.ts';

interface Found {
  readonly file: HeldFile;
  readonly bytes: Uint8Array;
  readonly isLaunchFile: boolean;
}

type FoundFile = { readonly ok: true; readonly value: Found } | Refused;

/** Bytes by an id the host gave out: held, named at start, or a recovery copy. */
async function find(parts: ServiceParts, fileId: string): Promise<FoundFile> {
  const { store, launchFile, recovery } = parts;
  const held = store.get(fileId);
  if (held !== null) {
    const file = { fileId, name: held.name };
    return answered({ file, bytes: held.bytes, isLaunchFile: false });
  }
  if (launchFile !== null && launchFile.file.fileId === fileId) {
    const read = await launchFile.read();
    if (!read.ok) return read;
    return answered({ file: launchFile.file, bytes: read.value, isLaunchFile: true });
  }
  const copy = await recovery.read(fileId);
  if (copy !== null) {
    const file = { fileId, name: copy.name };
    return answered({ file, bytes: copy.bytes, isLaunchFile: false });
  }
  return refused('unknown-file', 'The file is not held any more.', 'file', 'Open it again.');
}

/** A container whose end is lost can only be told by its name. */
function isMeantAsProject({ file, bytes }: Found): boolean {
  const zip = bytes[0] === 0x50 && bytes[1] === 0x4b;
  return zip && file.name.toLowerCase().endsWith(PROJECT_EXTENSION);
}

async function openProject(parts: ServiceParts, found: Found): Promise<Answer<'file.open'>> {
  const { file, bytes, isLaunchFile } = found;
  const unpacked = unpackProject(bytes, file.name);
  if (!unpacked.ok) return unpacked;
  const { migrated, projectText } = unpacked;
  const launchFile = isLaunchFile ? parts.launchFile : null;
  if (migrated) launchFile?.keepOlder(bytes);
  let source: HeldFile | null = null;
  if (unpacked.source !== null) {
    const held = parts.store.put(unpacked.source.name, unpacked.source.bytes);
    if (!held.ok) return held;
    source = held.file;
  }
  const opened: OpenedFile = {
    kind: 'project',
    file,
    projectText,
    source,
    writable: (await launchFile?.isWritable()) ?? false,
  };
  return answered(opened);
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
  return answered({ kind: 'schedule', file, workbook: outcome.workbook });
}
