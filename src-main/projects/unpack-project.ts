import type { Reason } from '../../src-shared/contract/requests.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { readProject } from '../../src-shared/format/project-json.ts';
import { PackageParts } from '../workbook/package-parts.ts';
import { RefusalError } from '../workbook/refusal.ts';
import { readZipDirectory, type ZipEntry } from '../workbook/zip-directory.ts';
import {
  FILE_VERSION,
  MANIFEST_PART,
  type Manifest,
  manifestHeadSchema,
  manifestSchema,
  PROJECT_PART,
  SOURCE_FOLDER,
  type SourceFile,
  sha256Hex,
} from './project-parts.ts';

export interface PackedParts {
  readonly projectText: string;
  /** In the order of the document's `source.files`. */
  readonly sources: readonly SourceFile[];
  readonly label: string | null;
}

export type ReadParts =
  | { readonly ok: true; readonly parts: PackedParts }
  | { readonly ok: false; readonly reason: Reason };

export type UnpackedProject =
  | {
      readonly ok: true;
      readonly project: Project;
      readonly projectText: string;
      /** The document was of an older version. */
      readonly migrated: boolean;
      readonly sources: readonly SourceFile[];
    }
  | { readonly ok: false; readonly reason: Reason };

const TAKE_A_COPY =
  'Open the copy beside it that ends in .bak, a recovery copy, or an earlier copy of the project.';

class Damage extends Error {
  readonly reason: Reason;
  constructor(reason: Reason) {
    super(reason.what);
    this.reason = reason;
  }
}

function damage(code: string, what: string, where: string, todo = TAKE_A_COPY): never {
  throw new Damage({ code, what, where, todo });
}

/** What the zip reader says of workbooks, said of a project. */
function zipReason(refusal: Reason, fileName: string): Reason {
  const { code, where } = refusal;
  if (code === 'cut-off') {
    const what = 'The project is cut off: it was copied or downloaded only in part.';
    return { code, what, where: fileName, todo: `Copy it again. ${TAKE_A_COPY}` };
  }
  if (code === 'inflated-bytes' || code === 'packing-ratio' || code === 'zip-entries') {
    const what = 'The project unpacks to more than this program takes in.';
    return { code: 'too-large', what, where, todo: 'Open it only if you trust its sender.' };
  }
  const what = 'The project is damaged: its bytes were altered after it was saved.';
  return { code: 'damaged', what, where, todo: TAKE_A_COPY };
}

class ProjectPackage {
  readonly #bytes: Uint8Array;
  readonly #entries: ReadonlyMap<string, ZipEntry>;
  readonly #fileName: string;

  constructor(bytes: Uint8Array, fileName: string) {
    this.#bytes = bytes;
    this.#fileName = fileName;
    this.#entries = readZipDirectory(bytes, fileName);
  }

  /** Each part has the reader's whole cap to itself: the project and a few workbooks. */
  read(name: string): Uint8Array {
    const parts = new PackageParts(this.#bytes, this.#entries, this.#fileName);
    const content = parts.read(name);
    if (content === undefined) {
      damage('damaged', `The project lacks its part ${name}.`, this.#fileName);
    }
    return content;
  }

  manifest(): Manifest {
    const where = `${this.#fileName}, part ${MANIFEST_PART}`;
    if (!this.#entries.has(MANIFEST_PART)) {
      damage(
        'not-a-project',
        'This is not a Runledger project.',
        this.#fileName,
        'Choose another file.',
      );
    }
    let raw: unknown;
    try {
      raw = JSON.parse(utf8(this.read(MANIFEST_PART), where));
    } catch (fault) {
      if (fault instanceof SyntaxError)
        damage('damaged', 'Its table of contents is damaged.', where);
      throw fault;
    }
    const head = manifestHeadSchema.safeParse(raw);
    if (head.success && head.data.version > FILE_VERSION) {
      damage(
        'newer-version',
        `The project was saved by a newer Runledger: its file is version ${head.data.version}, this program reads up to ${FILE_VERSION}.`,
        this.#fileName,
        'Install the newer Runledger, or ask for the marked-up workbook and import that.',
      );
    }
    const manifest = manifestSchema.safeParse(raw);
    if (!manifest.success) damage('damaged', 'Its table of contents is damaged.', where);
    return manifest.data;
  }

  /** A part that the manifest lists, with size and sha-256 as listed. */
  checked(entry: Manifest['parts'][number]): Uint8Array {
    const content = this.read(entry.name);
    if (content.length !== entry.bytes || sha256Hex(content) !== entry.sha256) {
      const what = `The part ${entry.name} is not the one that was saved: its checksum differs.`;
      damage('damaged', what, `${this.#fileName}, part ${entry.name}`);
    }
    return content;
  }
}

function utf8(bytes: Uint8Array, where: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    damage('damaged', 'The text of the project is damaged.', where);
  }
}

/** The workbook's own name in the name of its part; null: not the part that must stand at this place. */
function sourceName(version: number, part: string, place: number): string | null {
  const folder = version === 1 ? SOURCE_FOLDER : `${SOURCE_FOLDER}${place + 1}/`;
  if (version === 1 && place > 0) return null;
  return part.startsWith(folder) ? part.slice(folder.length) : null;
}

function guarded<T extends { readonly ok: boolean }>(
  fileName: string,
  read: () => T,
): T | { readonly ok: false; readonly reason: Reason } {
  try {
    return read();
  } catch (fault) {
    if (fault instanceof Damage) return { ok: false, reason: fault.reason };
    if (fault instanceof RefusalError) {
      return { ok: false, reason: zipReason(fault.refusal, fileName) };
    }
    const what = 'The project could not be read: it is built in a way the reader does not know.';
    return { ok: false, reason: { code: 'unreadable', what, where: fileName, todo: TAKE_A_COPY } };
  }
}

/** True when the bytes are a zip container with a project's table of contents. Never throws. */
export function isProjectFile(bytes: Uint8Array): boolean {
  if (bytes[0] !== 0x50 || bytes[1] !== 0x4b) return false;
  try {
    return readZipDirectory(bytes, '').has(MANIFEST_PART);
  } catch {
    return false;
  }
}

/** What a recovery copy is a copy of; null when it cannot be told. Reads the manifest only. */
export function packedLabel(bytes: Uint8Array): string | null {
  const read = guarded('', () => ({
    ok: true as const,
    label: new ProjectPackage(bytes, '').manifest().label,
  }));
  return read.ok ? read.label : null;
}

/**
 * The parts of a `.runledger` file, checksums verified; the project text is not looked into.
 * @param fileName for messages
 */
export function unpackParts(bytes: Uint8Array, fileName: string): ReadParts {
  return guarded(fileName, (): ReadParts => {
    const file = new ProjectPackage(bytes, fileName);
    const manifest = file.manifest();
    const [first, ...others] = manifest.parts;
    const names = others.map(({ name }, place) => sourceName(manifest.version, name, place));
    if (first?.name !== PROJECT_PART || names.includes(null)) {
      damage('damaged', 'Its table of contents is damaged.', `${fileName}, part ${MANIFEST_PART}`);
    }
    const projectText = utf8(file.checked(first), `${fileName}, part ${PROJECT_PART}`);
    const sources = others.map((part, place) => ({
      name: names[place] ?? '',
      bytes: file.checked(part),
    }));
    return { ok: true, parts: { projectText, sources, label: manifest.label } };
  });
}

/**
 * Reads a `.runledger` file whole: parts, checksums, document, references; an older document is
 * brought to the present version. Never throws: whatever is wrong comes back as a reason.
 * @param fileName for messages
 */
export function unpackProject(bytes: Uint8Array, fileName = 'project file'): UnpackedProject {
  const read = unpackParts(bytes, fileName);
  if (!read.ok) return read;
  const { projectText, sources } = read.parts;
  const document = readProject(projectText);
  if (!document.ok) {
    const where = `${fileName}, part ${PROJECT_PART}, ${document.reason.where}`;
    return { ok: false, reason: { ...document.reason, where } };
  }
  const { project, migrated } = document;
  return { ok: true, project, projectText, migrated, sources };
}
