import { strToU8, type Zippable, zipSync } from 'fflate';
import {
  FILE_FORMAT,
  FILE_VERSION,
  MANIFEST_PART,
  type Manifest,
  PROJECT_PART,
  SOURCE_FOLDER,
  type SourceFile,
  sha256Hex,
} from './project-parts.ts';
import { bareName } from './safe-name.ts';

export interface ProjectContent {
  /** What `writeProject` wrote. */
  readonly projectText: string;
  /** The source workbooks, kept byte by byte, in the order of the document's `source.files`. */
  readonly sources: readonly SourceFile[];
  readonly appVersion: string;
  /** Set in recovery copies only. */
  readonly label?: string;
}

// The earliest time a zip container knows: equal projects give equal bytes whenever they are saved.
const NO_TIME = new Date(1980, 0, 1);

function isZip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b;
}

function sourcePart(name: string, place: number): string {
  const own = [...bareName(name)].slice(0, 200).join('') || 'source';
  return `${SOURCE_FOLDER}${place + 1}/${own}`;
}

/** The bytes of a `.runledger` file. The same content gives the same bytes. */
export function packProject(content: ProjectContent): Uint8Array {
  const { projectText, sources, appVersion, label = null } = content;
  const project = strToU8(projectText);
  const held: [name: string, bytes: Uint8Array][] = [[PROJECT_PART, project]];
  sources.forEach(({ name, bytes }, place) => {
    held.push([sourcePart(name, place), bytes]);
  });
  const manifest: Manifest = {
    format: FILE_FORMAT,
    version: FILE_VERSION,
    app: appVersion,
    label,
    parts: held.map(([name, bytes]) => ({ name, bytes: bytes.length, sha256: sha256Hex(bytes) })),
  };
  const parts: Zippable = { [MANIFEST_PART]: strToU8(`${JSON.stringify(manifest)}\n`) };
  for (const [name, bytes] of held) {
    // A workbook is packed already; deflating it again would only take time.
    parts[name] = [bytes, { level: isZip(bytes) ? 0 : 6 }];
  }
  return zipSync(parts, { mtime: NO_TIME, level: 6 });
}
