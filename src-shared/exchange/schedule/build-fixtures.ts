/** Fixture records from what the rows said. */
import { type SourceColumnId, sourceColumnIds } from '../../columns/column-table.ts';
import { blankFixture } from '../../document/blank.ts';
import { fixtureFieldOf } from '../../document/cell-fields.ts';
import { freeId } from '../../document/edit-cell.ts';
import type { Fixture, RowOrigin, RunStatement } from '../../document/project.ts';
import type { SourceRow, SourceSheet } from '../../document/source-workbook.ts';
import type { PlacedDraft } from './order-places.ts';
import type { ColumnPlan, PlannedColumn } from './plan-columns.ts';
import type { ReadingLog } from './reading-log.ts';
import type { RowDraft } from './row-draft.ts';

export interface FixtureParts {
  readonly plan: ColumnPlan;
  /** The sheet as it stands in the file, without the engineer's answers. */
  readonly sheet: SourceSheet;
  readonly log: ReadingLog;
  readonly loadOf: (row: RowDraft) => number | null;
  readonly modeOf: (row: RowDraft) => string | null;
  readonly differing: (placed: PlacedDraft) => RunStatement | null;
}

function originCells(row: SourceRow, columns: readonly PlannedColumn[]): RowOrigin['cells'] {
  const slots: RowOrigin['cells'][number][] = [];
  for (const cell of row.cells) slots[cell.column] = cell.value;
  return columns.map(({ column }) => slots[column] ?? null);
}

/** Ids: those of our own id column, each once; the others `f1`, `f2` … */
function idsOf(placed: readonly PlacedDraft[], { plan, sheet, log }: FixtureParts): string[] {
  const owned = new Map<string, PlacedDraft>();
  for (const one of placed) {
    const { rowId } = one.draft.row;
    if (rowId !== null && one.draft.nth === 0 && !owned.has(rowId)) owned.set(rowId, one);
  }
  let next = Number(freeId('f', owned.keys()).slice(1));
  return placed.map((one) => {
    const { rowId, source } = one.draft.row;
    if (rowId !== null && owned.get(rowId) === one) return rowId;
    const id = `f${next}`;
    next += 1;
    if (rowId !== null && one.draft.nth === 0) {
      const place = { sheet: sheet.name, row: source.number, column: plan.rowIdColumn ?? 0 };
      const note = `the id ${rowId} stands on a row above; this row has the new id ${id}`;
      log.add(place, rowId, 'rowId', id, 'sure', note);
    }
    return id;
  });
}

function fixtureOf(
  placed: PlacedDraft,
  id: string,
  origin: RowOrigin,
  parts: FixtureParts,
): Fixture {
  const { row, tag, nth } = placed.draft;
  const { text, number } = row;
  const fixture: Fixture = {
    ...blankFixture(id),
    tag,
    type: text.type ?? null,
    run: placed.run,
    place: placed.place,
    fedFrom: nth === 0 ? (text.fedFrom ?? null) : null,
    spanM: number.span ?? null,
    installedM: number.installed ?? null,
    loadW: parts.loadOf(row),
    powerFactor: number.powerFactor ?? null,
    mode: parts.modeOf(row),
    footprint: number.footprint ?? null,
    universe: number.universe ?? null,
    // The address of a row that stands for several is that of its first.
    address: nth === 0 ? (number.address ?? null) : null,
    unitLoad: number.unitLoad ?? null,
    leakageMa: number.leakage ?? null,
    shareSet: text.shareSet ?? null,
    location: text.location ?? null,
    reach: text.reach ?? null,
    area: text.area ?? null,
    description: text.description ?? null,
    remarks: text.remarks ?? null,
    differing: parts.differing(placed),
    locks: row.locks.fixture,
    origin,
  };
  return { ...fixture, unread: unreadOf(row, fixture) };
}

/** Columns whose cell could not be read and that have got no value from elsewhere either. */
function unreadOf(row: RowDraft, fixture: Fixture): SourceColumnId[] {
  return sourceColumnIds.filter((id) => {
    if (id === 'quantity') return false;
    // Watts from VA or A that were not to be had.
    if (id === 'load' && row.pendingLoad !== null) return fixture.loadW === null;
    if (!row.unread.has(id)) return false;
    const field = fixtureFieldOf[id];
    return field === undefined || fixture[field] === null;
  });
}

/** Builds the fixtures in order of rows. */
export function buildFixtures(placed: readonly PlacedDraft[], parts: FixtureParts): Fixture[] {
  const rows = new Map(parts.sheet.rows.map((row) => [row.number, row]));
  const origins = new Map<RowDraft, RowOrigin>();
  const ids = idsOf(placed, parts);
  return placed.map((one, index) => {
    const { row } = one.draft;
    let origin = origins.get(row);
    if (origin === undefined) {
      const source = rows.get(row.source.number) ?? row.source;
      origin = {
        file: 0,
        sheet: parts.sheet.name,
        row: source.number,
        cells: originCells(source, parts.plan.columns),
      };
      origins.set(row, origin);
    }
    return fixtureOf(one, ids[index] ?? `f${index + 1}`, origin, parts);
  });
}
