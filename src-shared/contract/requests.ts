/**
 * The one typed map of requests from window to host. JSON only, parsed at run time at the border,
 * answered with a value or a reason. A new request does not compile until every host answers it.
 * Files never travel by path: the window holds opaque ids the host gave out.
 */
import { z } from 'zod';
import type { SourceWorkbook } from '../document/source-workbook.ts';

/** An opaque name for bytes the host holds: an upload, the file given at start, the demo, a recovery copy. */
const fileId = z.string().regex(/^[A-Za-z0-9_-]{8,64}$/);

/** The project as JSON text: `format/project-json.ts` writes and reads it, versioned and checked. */
const projectText = z.string().max(200_000_000);

/** What the window may ask, by name: the shape of the question. */
export const requestSchemas = {
  /** At start: what this host is and what is to be opened. */
  'app.start': z.strictObject({}),
  /** Reads a file the host holds. */
  'file.open': z.strictObject({ fileId }),
  /** A copy of the demo job. */
  'file.demo': z.strictObject({}),
  /** Forgets bytes the host holds for the window. */
  'file.release': z.strictObject({ fileId }),
  /**
   * Saves the project with the source workbook inside. `target`: the project file it was opened
   * from, to be written in place where the host can; null: a new file leaves by `output`.
   */
  'project.save': z.strictObject({
    projectText,
    sourceFileId: fileId.nullable(),
    target: fileId.nullable(),
    suggestedName: z.string().max(200),
  }),
  /** The marked-up schedule as a new workbook. */
  'workbook.export': z.strictObject({ projectText, suggestedName: z.string().max(200) }),
  /** Keeps a recovery copy of unsaved work; the same id again replaces it. */
  'recovery.keep': z.strictObject({
    recoveryId: fileId.nullable(),
    projectText,
    sourceFileId: fileId.nullable(),
    name: z.string().max(200),
  }),
  /** Drops a recovery copy: the work was saved or given up. */
  'recovery.drop': z.strictObject({ recoveryId: fileId }),
} as const;

export type RequestName = keyof typeof requestSchemas;
export type Question<N extends RequestName> = z.infer<(typeof requestSchemas)[N]>;

/** Bytes ready to leave: a download in the browser, a save dialog in the desktop shell. */
export interface Output {
  readonly outputId: string;
  readonly name: string;
  readonly bytes: number;
}

export interface HeldFile {
  readonly fileId: string;
  readonly name: string;
}

export interface RecoveryOffer {
  readonly recoveryId: string;
  readonly name: string;
  /** ISO time. */
  readonly keptAt: string;
}

export type OpenedFile =
  | { readonly kind: 'schedule'; readonly file: HeldFile; readonly workbook: SourceWorkbook }
  | {
      readonly kind: 'project';
      readonly file: HeldFile;
      readonly projectText: string;
      /** The source workbook kept inside, if any. */
      readonly source: HeldFile | null;
      /** The host can write this file in place. */
      readonly writable: boolean;
    };

/** The shape of each answer's value. */
export interface AnswerValues {
  'app.start': {
    readonly host: 'loopback' | 'desktop';
    readonly version: string;
    /** The file named on the command line. */
    readonly launchFile: HeldFile | null;
    readonly recoveries: readonly RecoveryOffer[];
  };
  'file.open': OpenedFile;
  'file.demo': HeldFile;
  'file.release': Record<string, never>;
  'project.save':
    | { readonly saved: 'in-place' }
    | { readonly saved: 'output'; readonly output: Output };
  'workbook.export': { readonly output: Output };
  'recovery.keep': { readonly recoveryId: string };
  'recovery.drop': Record<string, never>;
}

/** Why a request was not done: what is wrong, where, what to do. */
export interface Reason {
  readonly code: string;
  readonly what: string;
  readonly where: string;
  readonly todo: string;
}

export type Answer<N extends RequestName> =
  | { readonly ok: true; readonly value: AnswerValues[N] }
  | { readonly ok: false; readonly reason: Reason };

/** What every host must have: one function a request. */
export type Handlers = {
  readonly [N in RequestName]: (question: Question<N>) => Promise<Answer<N>>;
};

export function isRequestName(name: string): name is RequestName {
  return Object.hasOwn(requestSchemas, name);
}
