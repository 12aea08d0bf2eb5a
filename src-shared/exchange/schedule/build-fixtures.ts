/** Fixture records from what the rows said. */
import { type SourceColumnId, sourceColumnIds } from '../../columns/column-table.ts';
import { blankFixture } from '../../document/blank.ts';
import { fixtureFieldOf } from '../../document/cell-fields.ts';
import { freeId } from '../../document/edit-cell.ts';
import type { Fixture, RowOrigin, RunStatement } from '../../document/project.ts';
import type { SourceRow } from '../../document/source-workbook.ts';
import type { PlacedDraft } from './order-places.ts';
import type { ResolvedLoad } from './resolve-loads.ts';
import type { RowDraft } from './row-draft.ts';
import type { SourceColumns } from './source-columns.ts';
import { placeOf } from './tell-row.ts';

export interface FixtureParts {
  readonly columns: SourceColumns;
  readonly loadOf: (row: RowDraft) => ResolvedLoad;
  readonly typeOf: (row: RowDraft) => string | null;
  readonly modeOf: (row: RowDraft) => string | null;
  readonly differing: (placed: PlacedDraft) => RunStatement | null;
}

/** Where rows stood, each worked out once. */
class Origins {
  private readonly known = new Map<RowDraft, RowOrigin>();
  private readonly rows = new Map<RowDraft['part'], Map<number, SourceRow>>();

  constructor(private readonly columns: SourceColumns) {}

  /** The row as it stands in the file, without the engineer's answers. */
  private original({ part, source }: RowDraft): SourceRow {
    let rows = this.rows.get(part);
    if (rows === undefined) {
      rows = new Map(part.original.rows.map((row) => [row.number, row]));
      this.rows.set(part, rows);
    }
    return rows.get(source.number) ?? source;
  }

  of(row: RowDraft): RowOrigin {
    const known = this.known.get(row);
    if (known !== undefined) return known;
    const source = this.original(row);
    const slots: RowOrigin['cells'][number][] = [];
    for (const cell of source.cells) slots[cell.column] = cell.value;
    const at = this.columns.columnAt.get(row.part) ?? [];
    const origin: RowOrigin = {
      file: row.part.file,
      sheet: row.part.sheet.name,
      row: source.number,
      cells: at.map((column) => (column === null ? null : (slots[column] ?? null))),
    };
    this.known.set(row, origin);
    return origin;
  }
}

/** The id of ours that a row has for its fixture; null: none. */
function ownIdOf({ draft: { row, nth } }: PlacedDraft): string | null {
  return row.rowIds[nth] ?? null;
}

/** Ids: those of our own id column, each once; the others `f1`, `f2` … */
function idsOf(placed: readonly PlacedDraft[]): string[] {
  const owned = new Map<string, PlacedDraft>();
  for (const one of placed) {
    const own = ownIdOf(one);
    if (own !== null && !owned.has(own)) owned.set(own, one);
  }
  let next = Number(freeId('f', owned.keys()).slice(1));
  return placed.map((one) => {
    const own = ownIdOf(one);
    if (own !== null && owned.get(own) === one) return own;
    const id = `f${next}`;
    next += 1;
    if (own !== null) {
      const { row } = one.draft;
      const place = placeOf(row, row.part.plan.rowIdColumn ?? 0);
      const note = `the id ${own} stands on a row above; this row has the new id ${id}`;
      row.part.log.add(place, own, 'rowId', id, 'sure', note);
    }
    return id;
  });
}

function fixtureOf(
  placed: PlacedDraft,
  id: string,
  origins: Origins,
  parts: FixtureParts,
): Fixture {
  const { row, tag, nth } = placed.draft;
  const { text, number } = row;
  const sources = row.mergedFrom.length === 0 ? [row] : row.mergedFrom.map((m) => m.row);
  const [origin, ...alsoFrom] = sources.map((source) => origins.of(source));
  const load = parts.loadOf(row);
  const fixture: Fixture = {
    ...blankFixture(id),
    tag,
    type: parts.typeOf(row),
    run: placed.run,
    place: placed.place,
    fedFrom: nth === 0 ? (text.fedFrom ?? null) : null,
    spanM: number.span ?? null,
    installedM: number.installed ?? null,
    loadW: load.loadW,
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
    area: text.area ?? row.part.implied.area,
    description: text.description ?? null,
    remarks: text.remarks ?? null,
    differing: parts.differing(placed),
    locks: row.locks.fixture,
    origin: origin ?? null,
    alsoFrom,
  };
  return { ...fixture, unread: unreadOf(row, fixture, load) };
}

/** Columns whose cell could not be read and that have got no value from elsewhere either. */
function unreadOf(row: RowDraft, fixture: Fixture, load: ResolvedLoad): SourceColumnId[] {
  const rows = row.mergedFrom.length === 0 ? [row] : row.mergedFrom.map((m) => m.row);
  const pending = load.conflict || rows.some((r) => r.pendingLoad !== null);
  return sourceColumnIds.filter((id) => {
    if (id === 'quantity') return false;
    // Watts from VA or A that were not to be had.
    if (id === 'load' && pending) return fixture.loadW === null;
    if (!row.unread.has(id)) return false;
    const field = fixtureFieldOf[id];
    return field === undefined || fixture[field] === null;
  });
}

/** Builds the fixtures in order of rows. */
export function buildFixtures(placed: readonly PlacedDraft[], parts: FixtureParts): Fixture[] {
  const origins = new Origins(parts.columns);
  const ids = idsOf(placed);
  return placed.map((one, index) => fixtureOf(one, ids[index] ?? `f${index + 1}`, origins, parts));
}
