/** Loads in VA or A as watts, once power factors and supplies are known; totals of a row shared out. */
import type { FixtureType } from '../../document/project.ts';
import { indexTypes, nameKey } from '../../solve/fixture-facts.ts';
import { told } from './cell-reading.ts';
import { headerWords } from './header-words.ts';
import type { ColumnPlan } from './plan-columns.ts';
import { wattsFromAmperes, wattsFromVoltAmperes } from './read-load-cell.ts';
import type { ReadingLog } from './reading-log.ts';
import type { RowDraft } from './row-draft.ts';

export interface LoadContext {
  readonly sheet: string;
  readonly plan: ColumnPlan;
  readonly log: ReadingLog;
  readonly types: readonly FixtureType[];
  readonly supplyOf: (row: RowDraft) => number | null;
  /** Fixtures made of the row. */
  readonly countOf: (row: RowDraft) => number;
}

function waitingWatts(
  row: RowDraft,
  context: LoadContext,
  powerFactor: number | null,
): number | null {
  const pending = row.pendingLoad;
  if (pending === null) return row.number.load ?? null;
  const { reading } = pending;
  const watts =
    reading.kind === 'voltAmperes'
      ? wattsFromVoltAmperes(reading.va, powerFactor, reading.note)
      : wattsFromAmperes(reading.currentA, context.supplyOf(row), powerFactor, reading.note);
  const place = { sheet: context.sheet, row: row.source.number, column: pending.column };
  return context.log.take(place, pending.raw, 'load', watts);
}

/** Own watts of each row's fixtures; null where the row gives none or they cannot be known. */
export function resolveLoads(
  rows: readonly RowDraft[],
  context: LoadContext,
): Map<RowDraft, number | null> {
  const types = indexTypes(context.types);
  const column = context.plan.read.find((c) => c.id === 'load');
  const header = `${column?.header.upper ?? ''} ${column?.header.lower ?? ''}`;
  const isTotal = /\btotal\b/u.test(headerWords(header));
  const loads = new Map<RowDraft, number | null>();
  for (const row of rows) {
    const type = row.text.type === undefined ? undefined : types.get(nameKey(row.text.type));
    const powerFactor = row.number.powerFactor ?? type?.powerFactor ?? null;
    const loadW = waitingWatts(row, context, powerFactor);
    const count = context.countOf(row);
    if (!isTotal || count < 2 || loadW === null || column === undefined) {
      loads.set(row, loadW);
      continue;
    }
    const place = { sheet: context.sheet, row: row.source.number, column: column.column };
    const raw = row.source.cells.find((cell) => cell.column === column.column)?.text ?? '';
    const note = `a total, shared among ${count} fixtures`;
    loads.set(row, context.log.take(place, raw, 'load', told(loadW / count, 'guess', note)));
  }
  return loads;
}
