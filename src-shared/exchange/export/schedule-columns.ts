/** Which columns the marked-up schedule has, in which order. */
import {
  type Column,
  type ColumnId,
  columns,
  isSourceColumnId,
  type SourceColumnId,
} from '../../columns/column-table.ts';
import type { Fixture, Project, SourceColumn } from '../../document/project.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import type { ExportColumn } from './export-table.ts';
import {
  findOwnColumns,
  freeHeader,
  headerWithUnit,
  type OwnColumn,
  type OwnColumnKey,
  ownColumns,
} from './own-columns.ts';
import { indexStated, statedValue } from './stated-value.ts';

export type ScheduleColumn =
  /** A column of the file; `place` in `source.columns`. */
  | { readonly from: 'source'; readonly place: number; readonly shown: ExportColumn }
  /** A typed column the file lacks and the document has values for. */
  | { readonly from: 'added'; readonly column: Column; readonly shown: ExportColumn }
  | { readonly from: 'own'; readonly own: OwnColumn; readonly shown: ExportColumn };

/** More of the column's cells are numbers than text: it is set like a column of numbers. */
function isNumeric(fixtures: readonly Fixture[], place: number): boolean {
  let balance = 0;
  for (const { origin } of fixtures) {
    const raw = origin?.cells[place] ?? null;
    if (raw !== null) balance += typeof raw === 'number' ? 1 : -1;
  }
  return balance > 0;
}

function sourceColumns(project: Project): ScheduleColumn[] {
  const source: readonly SourceColumn[] = project.source?.columns ?? [];
  const ours = findOwnColumns(source.map((column) => column.header));
  return source.flatMap((column, place): ScheduleColumn[] => {
    if (ours.has(place)) return [];
    const shown: ExportColumn = {
      header: column.header,
      columnId: column.columnId as ColumnId | null,
      kind: isNumeric(project.fixtures, place) ? 'number' : 'text',
      decimals: null,
      ink: 'typed',
      help: null,
    };
    return [{ from: 'source', place, shown }];
  });
}

/** Always written, so that a schedule made new can be read back and the order along a run is plain. */
const alwaysThere: ReadonlySet<SourceColumnId> = new Set(['tag', 'type', 'run', 'place']);

/**
 * True where a row must say that a value is not known, so that nothing takes its place: its cell could
 * not be read. An unreadable address says that of its universe too.
 */
export function isUnknown({ unread }: Fixture, id: ColumnId): boolean {
  return unread.includes(id) && !(id === 'universe' && unread.includes('address'));
}

/** Typed columns with a value somewhere in the document. */
function usedColumns(project: Project): Set<ColumnId> {
  const index = indexStated(project);
  const left = columns.filter((c) => isSourceColumnId(c.id) && c.id !== 'quantity');
  const used = new Set<ColumnId>(alwaysThere);
  for (const fixture of project.fixtures) {
    for (const { id } of left) {
      if (used.has(id)) continue;
      if (statedValue(fixture, id, index) !== null || isUnknown(fixture, id)) used.add(id);
    }
  }
  return used;
}

/** Columns of ours that are written only where they say something. */
function columnsLeftOut(project: Project, session: EngineSession): Set<OwnColumnKey> {
  const left = new Set<OwnColumnKey>();
  if (![...session.plan.values()].some((slot) => slot.proposed)) {
    left.add('proposedUniverse').add('proposedAddress');
  }
  if (project.runs.every((run) => run.homeRunConductor === null)) left.add('homeRunConductor');
  if (project.runs.every((run) => run.dataOutput === null)) left.add('dataOutput');
  return left;
}

/** The engineer's columns in their order, then what is missing among the typed ones, then ours. */
export function scheduleColumns(project: Project, session: EngineSession): ScheduleColumn[] {
  const { displayUnit } = project.settings;
  const list = sourceColumns(project);
  const taken = new Set<string>();
  for (const { shown } of list) freeHeader(shown.header, taken);
  const present = new Set(list.map(({ shown }) => shown.columnId));
  const used = usedColumns(project);
  for (const column of columns) {
    if (!used.has(column.id) || present.has(column.id)) continue;
    const { title, unit, decimals, help, kind } = column;
    const header = freeHeader(headerWithUnit(title, unit, displayUnit), taken);
    list.push({
      from: 'added',
      column,
      shown: {
        header,
        columnId: column.id,
        kind: kind === 'text' ? 'text' : 'number',
        decimals: decimals === 0 ? 0 : null,
        ink: 'typed',
        help,
      },
    });
  }
  const left = columnsLeftOut(project, session);
  for (const own of ownColumns) {
    if (left.has(own.key)) continue;
    const { title, unit, decimals, help, kind, columnId } = own;
    const header = freeHeader(headerWithUnit(title, unit, displayUnit), taken);
    const text = kind === 'text' || kind === 'findings';
    const shown: ExportColumn = {
      header,
      columnId,
      kind: text ? 'text' : 'number',
      decimals,
      ink: 'solved',
      help,
    };
    list.push({
      from: 'own',
      own,
      shown: own.key === 'findings' ? { ...shown, wrap: 44, saysLetter: true } : shown,
    });
  }
  return list;
}
