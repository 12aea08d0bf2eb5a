/** Loads in VA or A as watts, once power factors and supplies are known; totals of a row shared out. */
import type { FixtureType } from '../../document/project.ts';
import { indexTypes, nameKey } from '../../solve/fixture-facts.ts';
import { told } from './cell-reading.ts';
import { headerWords } from './header-words.ts';
import { wattsFromAmperes, wattsFromVoltAmperes } from './read-load-cell.ts';
import type { RowDraft } from './row-draft.ts';
import { placeOf } from './tell-row.ts';

/** Part by which watts worked out from A or VA may differ from watts as written. Our own figure, no source. */
const WORKED_OUT = 0.02;

export interface LoadContext {
  readonly types: readonly FixtureType[];
  /** Supply of a row's run; null: not known. */
  readonly supplyOf: (row: RowDraft) => number | null;
  /** Fixtures made of the row. */
  readonly countOf: (row: RowDraft) => number;
  /** Two files state different watts. */
  readonly tellConflict: (first: RowDraft, second: RowDraft, tag: string | null) => void;
}

export interface ResolvedLoad {
  readonly loadW: number | null;
  /** Two files contradict each other. */
  readonly conflict: boolean;
}

interface Circumstances {
  readonly powerFactor: number | null;
  readonly supplyV: number | null;
}

/** Watts of one source row; what it took is told. */
function wattsOf(row: RowDraft, { powerFactor, supplyV }: Circumstances): number | null {
  const pending = row.pendingLoad;
  if (pending === null) return row.number.load ?? null;
  const { reading } = pending;
  const watts =
    reading.kind === 'voltAmperes'
      ? wattsFromVoltAmperes(reading.va, powerFactor, reading.note)
      : wattsFromAmperes(reading.currentA, supplyV, powerFactor, reading.note);
  return row.part.log.take(placeOf(row, pending.column), pending.raw, 'load', watts);
}

/** A total under a header that says so, shared among the fixtures of the row. */
function shared(row: RowDraft, loadW: number | null, count: number): number | null {
  const column = row.part.plan.read.find((c) => c.id === 'load');
  const header = `${column?.header.upper ?? ''} ${column?.header.lower ?? ''}`;
  const isTotal = /\btotal\b/u.test(headerWords(header));
  if (!isTotal || count < 2 || loadW === null || column === undefined) return loadW;
  const raw = row.source.cells.find((cell) => cell.column === column.column)?.text ?? '';
  const note = `a total, shared among ${count} fixtures`;
  const place = placeOf(row, column.column);
  return row.part.log.take(place, raw, 'load', told(loadW / count, 'guess', note));
}

class LoadResolver {
  private readonly known = new Map<RowDraft, number | null>();
  private readonly types: ReturnType<typeof indexTypes>;

  constructor(private readonly context: LoadContext) {
    this.types = indexTypes(context.types);
  }

  private circumstances(row: RowDraft): Circumstances {
    const type = row.text.type === undefined ? undefined : this.types.get(nameKey(row.text.type));
    return {
      powerFactor: row.number.powerFactor ?? type?.powerFactor ?? null,
      supplyV: row.number.supply ?? this.context.supplyOf(row),
    };
  }

  /** Watts of a source row, worked out once. */
  private once(source: RowDraft, count: number, circumstances: Circumstances): number | null {
    const known = this.known.get(source);
    if (known !== undefined) return known;
    const loadW = shared(source, wattsOf(source, circumstances), count);
    this.known.set(source, loadW);
    return loadW;
  }

  resolve(row: RowDraft): ResolvedLoad {
    const circumstances = this.circumstances(row);
    if (row.mergedFrom.length === 0) {
      const loadW = this.once(row, this.context.countOf(row), circumstances);
      return { loadW, conflict: false };
    }
    let first: { row: RowDraft; loadW: number } | null = null;
    for (const { row: source, of } of row.mergedFrom) {
      const loadW = this.once(source, of, circumstances);
      if (loadW === null) continue;
      if (first === null) {
        first = { row: source, loadW };
        continue;
      }
      const workedOut = source.pendingLoad !== null || first.row.pendingLoad !== null;
      const room = (workedOut ? WORKED_OUT : 1e-9) * Math.max(first.loadW, loadW);
      if (Math.abs(first.loadW - loadW) <= room) continue;
      this.context.tellConflict(first.row, source, row.text.tag ?? null);
      return { loadW: null, conflict: true };
    }
    return { loadW: first?.loadW ?? null, conflict: false };
  }
}

/** Own watts of each row's fixtures; null where the row gives none or they cannot be known. */
export function resolveLoads(
  rows: readonly RowDraft[],
  context: LoadContext,
): Map<RowDraft, ResolvedLoad> {
  const resolver = new LoadResolver(context);
  return new Map(rows.map((row) => [row, resolver.resolve(row)]));
}
