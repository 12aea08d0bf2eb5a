/** What a `.runledger` file is made of: a zip container with these parts. */
import { createHash } from 'node:crypto';
import { z } from 'zod';
import { PROJECT_ENTRY } from '../workbook/package-kind.ts';

/** Table of contents, read first: names the file, its version and the other parts. */
export const MANIFEST_PART = PROJECT_ENTRY;
export const PROJECT_PART = 'project.json';
/** Folder of the source workbooks: `source/1/<name>`, `source/2/<name>` …; before version 2 `source/<name>`. */
export const SOURCE_FOLDER = 'source/';
/** Source workbooks one project may hold: as many as the contract lets the window name. */
export const MOST_SOURCES = 8;
export const FILE_FORMAT = 'runledger-file';
/** Version of the container; the document inside has a version of its own. 2: several sources. */
export const FILE_VERSION = 2;
export const PROJECT_EXTENSION = '.runledger';

const part = z.strictObject({
  name: z.string(),
  bytes: z.int().min(0),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
});

export const manifestSchema = z.strictObject({
  format: z.literal(FILE_FORMAT),
  version: z.int().min(1).max(FILE_VERSION),
  app: z.string(),
  /** What a recovery copy is a copy of, for the list of them; null in a saved project. */
  label: z.string().nullable(),
  parts: z
    .array(part)
    .min(1)
    .max(1 + MOST_SOURCES),
});
export type Manifest = z.infer<typeof manifestSchema>;

/** Of any version: enough to say that it is a newer one. */
export const manifestHeadSchema = z.object({
  format: z.literal(FILE_FORMAT),
  version: z.int().min(1),
});

export interface SourceFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export function sha256Hex(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
