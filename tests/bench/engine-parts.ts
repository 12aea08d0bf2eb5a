/** What the engine bench times, as one module to be bundled: see `bundle.ts`. */
import { applyCommand } from '../../src-shared/document/apply.ts';
import { editCell } from '../../src-shared/document/edit-cell.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { bareKernel } from './kernel.ts';

export const engine = { applyCommand, editCell, EngineSession, bareKernel };
