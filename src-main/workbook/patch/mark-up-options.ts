import type { EngineSession } from '../../../src-shared/session/engine-session.ts';

export interface MarkUpOptions {
  /** Which of the project's source files the bytes are: place in `source.files`. */
  readonly file: number;
  /** Date of issue, ISO (`2031-05-04`). None: no date anywhere. */
  readonly date?: string;
  /** The project's session, where the caller has one solved already. */
  readonly session?: EngineSession;
}
