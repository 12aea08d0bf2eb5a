/**
 * The one typed map of requests from window to host. JSON only, parsed at run time at the border,
 * answered with a value or a reason. A new request does not compile until every host answers it.
 * Files never travel by path: the window holds opaque ids the host gave out.
 */
import { z } from 'zod';
import type { SourceWorkbook } from '../document/source-workbook.ts';
import { windowCommands } from './window-commands.ts';

/** An opaque name for bytes the host holds: an upload, the file given at start, the demo, a recovery copy. */
const fileId = z.string().regex(/^[A-Za-z0-9_-]{8,64}$/);

/** The project as JSON text: `format/project-json.ts` writes and reads it, versioned and checked. */
const projectText = z.string().max(200_000_000);

/** A name as the window makes it of the job's own; the host makes a file name of it. */
const jobName = z.string().max(400);

/** Source workbooks of a job, the opened one first, in the order of `source.files`. */
const sourceFileIds = z.array(fileId).max(8);

/** What the host keeps between starts is small: choices of the window, header maps. */
const memoryKey = z.string().regex(/^[a-z0-9.-]{1,120}$/);
const memoryText = z.string().max(100_000);

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
   * Saves the project with the source workbooks inside. `target`: the project file it was opened
   * from, to be written in place where the host can; null: a new file leaves the host.
   * `overwrite`: the user was told that another program changed the file, and wants it replaced.
   */
  'project.save': z.strictObject({
    projectText,
    sourceFileIds,
    target: fileId.nullable(),
    overwrite: z.boolean(),
    suggestedName: jobName,
  }),
  /**
   * The marked-up schedule. `into`: which of the source workbooks comes back with our marks in it;
   * null: a new workbook of our own.
   */
  'workbook.export': z.strictObject({
    projectText,
    sourceFileIds,
    into: z.int().min(0).max(7).nullable(),
    suggestedName: jobName,
  }),
  /** Keeps a recovery copy of unsaved work; the same id again replaces it. */
  'recovery.keep': z.strictObject({
    recoveryId: fileId.nullable(),
    projectText,
    sourceFileIds,
    name: jobName,
  }),
  /** Drops a recovery copy: the work was saved or given up. */
  'recovery.drop': z.strictObject({ recoveryId: fileId }),
  /** Keeps a choice between starts; null: forgets it. */
  'memory.keep': z.strictObject({ key: memoryKey, text: memoryText.nullable() }),
  /** Lets the user choose a file with the system's dialog. Only the desktop shell has one. */
  'file.choose': z.strictObject({ what: z.enum(['any', 'schedule']) }),
  /** Files opened lately, newest first, as far as the host may open them again. */
  'file.recent': z.strictObject({}),
  /** What the frame around the window shows: title, unsaved mark, which commands can be given. */
  'app.told': z.strictObject({
    title: z.string().max(300),
    unsaved: z.boolean(),
    commands: z.array(z.enum(windowCommands)).max(windowCommands.length),
  }),
  /** The answer to `may-leave`: `asking` at once, then what the user decided. */
  'app.leave': z.strictObject({ answer: z.enum(['asking', 'leave', 'stay']) }),
  /** Prints the page with the system's dialog. A browser prints by itself. */
  'app.print': z.strictObject({}),
} as const;

export type RequestName = keyof typeof requestSchemas;
export type Question<N extends RequestName> = z.infer<(typeof requestSchemas)[N]>;

/** Bytes ready to leave: a download in the browser, a save dialog in the desktop shell. */
export interface Output {
  readonly outputId: string;
  readonly name: string;
  readonly bytes: number;
}

/** How bytes left the host. */
export type Left =
  /** Ready to be fetched by the window: a download. */
  | { readonly saved: 'output'; readonly output: Output }
  /** Written where the user chose; a project file can be saved in place from now on by its id. */
  | { readonly saved: 'file'; readonly file: HeldFile }
  /** The user closed the dialog; nothing was written. */
  | { readonly saved: 'not' };

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
      /** The source workbooks kept inside, in the order of the project's `source.files`. */
      readonly sources: readonly HeldFile[];
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
    /** What `memory.keep` has kept, by key. */
    readonly memory: Readonly<Record<string, string>>;
    /** What the user should know of the host's own files, such as a damaged one set aside. */
    readonly remarks: readonly Reason[];
  };
  'file.open': OpenedFile;
  'file.demo': HeldFile;
  'file.release': Record<string, never>;
  'project.save': Left | { readonly saved: 'in-place' };
  /** With what could not be marked as wanted, one sentence each. */
  'workbook.export': Left & { readonly remarks: readonly string[] };
  'recovery.keep': { readonly recoveryId: string };
  'recovery.drop': Record<string, never>;
  'memory.keep': Record<string, never>;
  /** Null: the user closed the dialog. */
  'file.choose': HeldFile | null;
  'file.recent': readonly HeldFile[];
  'app.told': Record<string, never>;
  'app.leave': Record<string, never>;
  'app.print': Record<string, never>;
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
