/** What the window shows: not part of the job, never saved with it. */
import { signal } from '@preact/signals';
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import type { Severity } from '../../src-shared/limits/limit.ts';

export const viewIds = [
  'schedule',
  'runs',
  'types',
  'lines',
  'supplies',
  'patch',
  'takeoff',
  'job',
  'import',
] as const;
export type ViewId = (typeof viewIds)[number];

export const viewTitles: Readonly<Record<ViewId, string>> = {
  schedule: 'Schedule',
  runs: 'Runs',
  types: 'Types',
  lines: 'Lines',
  supplies: 'Supplies',
  patch: 'Patch',
  takeoff: 'Takeoff',
  job: 'Assumptions',
  import: 'Import report',
};

export interface AtHand {
  readonly fixtureId: string | null;
  readonly run: string | null;
  readonly column: ColumnId | null;
}

export type SideFace = 'run' | 'findings' | 'closed';
export type DialogId = 'caution' | 'help' | 'about' | 'columns' | 'recoveries';

/** Key of a record just added: its table takes it under hand when it shows it. */
export const addedRecord = signal<string | null>(null);

export const view = signal<ViewId>('schedule');
export const atHand = signal<AtHand>({ fixtureId: null, run: null, column: null });
/** What is said of the record at hand in a view that is not the schedule. */
export const lineNote = signal<string | null>(null);
export const side = signal<SideFace>('run');
export const dialog = signal<DialogId | null>(null);
export const shownSeverities = signal<ReadonlySet<Severity>>(
  new Set(['stop', 'breach', 'watch', 'note', 'not-checked']),
);

/** A cell the grid is asked to go to; the grid answers and clears it. */
export interface GoTo {
  readonly fixtureId: string;
  readonly column: ColumnId | null;
}
export const goTo = signal<GoTo | null>(null);

/** Brings a fixture's cell into view and under hand. */
export function showCell(fixtureId: string, column: ColumnId | null): void {
  view.value = 'schedule';
  goTo.value = { fixtureId, column };
}
