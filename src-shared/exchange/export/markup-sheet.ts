/** The marks of one sheet of the engineer's workbook. */
import type { ColumnId } from '../../columns/column-table.ts';
import { columnOf } from '../../document/import-answers.ts';
import type { Fixture } from '../../document/project.ts';
import type { Finding } from '../../limits/finding.ts';
import { CellMarks } from './cell-marks.ts';
import type { CellContent, ExportCell, ExportColumn } from './export-table.ts';
import { titlesOf } from './finding-marks.ts';
import { inOtherSheet, type SheetParts, type SourcePlace, shownCell } from './markup-parts.ts';
import type { AddedRow, SheetMarkUp } from './markup-plan.ts';
import { findOwnColumns, NO_LONGER_IN_JOB } from './own-columns.ts';
import { RowEdits } from './row-edits.ts';
import type { ScheduleColumn } from './schedule-columns.ts';
import { NEW_ROW } from './schedule-rows.ts';
import { UNKNOWN } from './source-cells.ts';
import type { RowGroup } from './source-row-groups.ts';
import { summaryOf } from './summary-cell.ts';

export class SheetMarker {
  readonly firstColumn: number;
  private readonly marksHere = new CellMarks();
  private readonly ourCells = new Map<number, ExportCell[]>();
  private readonly addedRows: AddedRow[] = [];
  private readonly sourcePlaces: readonly SourcePlace[];
  private readonly shownOurs: readonly ExportColumn[];
  private readonly rowOf = new Map<string, number[]>();
  private readonly edits: RowEdits;
  private readonly gone: readonly number[];
  private nextRow: number;

  constructor(private readonly parts: SheetParts) {
    const { source, read, rows, facts, ours } = parts;
    this.shownOurs = ours.flatMap((place) => rows.columns[place]?.shown ?? []);
    this.firstColumn = facts.firstColumn(ours.length);
    this.nextRow = facts.firstFreeRow;
    this.sourcePlaces = rows.columns.flatMap((column, place): SourcePlace[] => {
      if (column.from !== 'source') return [];
      const at = columnOf(source, read, column.place);
      const { columnId: id, header: title } = column.shown;
      return [{ place, column: column.place, at, id, title }];
    });
    this.gone = this.findGone();
    this.edits = new RowEdits(parts, this.sourcePlaces, this.marksHere, this.gone);
    for (const group of parts.groups) {
      for (const { id } of group.fixtures) {
        const list = this.rowOf.get(id);
        if (list === undefined) this.rowOf.set(id, [group.row]);
        else list.push(group.row);
      }
    }
  }

  /** Edits that could not be written into their cells. */
  get unwritten(): number {
    return this.edits.unwritten;
  }

  /** Something the document says has no cell in this sheet. */
  get needsFullSheet(): boolean {
    return this.unwritten > 0 || this.parts.groups.some((group) => group.isSeveral);
  }

  /** Everything of the rows the sheet has. */
  markRows(): void {
    for (const group of this.parts.groups) {
      if (group.isSeveral) this.markSeveral(group);
      else this.markSingle(group);
    }
    for (const row of this.gone) this.markGoneRow(row);
  }

  private isThere = (place: number): boolean => {
    const column = this.parts.rows.columns[place];
    if (column === undefined) return false;
    if (column.from !== 'source' || this.parts.ours.includes(place)) {
      return this.parts.ours.includes(place);
    }
    return columnOf(this.parts.source, this.parts.read, column.place) !== null;
  };

  private findingsOf(fixture: Fixture): ReadonlyMap<number, readonly Finding[]> {
    return this.parts.rows.marksByPlace(fixture.id, this.isThere);
  }

  private markTheirs(row: number, findings: ReadonlyMap<number, readonly Finding[]>): void {
    for (const { place, at } of this.sourcePlaces) {
      const list = findings.get(place);
      if (at === null || list === undefined) continue;
      const cell = shownCell(this.parts.facts, row, at);
      this.marksHere.mark(cell.row, cell.column, list);
    }
  }

  private markSingle(group: RowGroup): void {
    const [fixture] = group.fixtures;
    if (fixture === undefined) return;
    const findings = this.findingsOf(fixture);
    const unwritten = this.edits.edit(fixture, group.row);
    this.markTheirs(group.row, findings);
    const cells = this.parts.ours.map((place) =>
      this.ourCell(fixture, place, findings, place === this.findingsPlace ? unwritten : []),
    );
    this.ourCells.set(group.row, cells);
  }

  private get findingsPlace(): number {
    return this.parts.rows.findingsPlace;
  }

  private valueOf(fixture: Fixture, column: ScheduleColumn): CellContent {
    const { value } = this.parts.rows.draft(fixture, column);
    const isUniverse = column.from === 'added' && column.column.id === 'universe';
    const { universeBase } = this.parts.read;
    return isUniverse && typeof value === 'number' ? value - 1 + universeBase : value;
  }

  private ourCell(
    fixture: Fixture,
    place: number,
    findings: ReadonlyMap<number, readonly Finding[]>,
    said: readonly string[],
  ): ExportCell {
    const column = this.parts.rows.columns[place];
    if (column === undefined) return null;
    const value = this.valueOf(fixture, column);
    return this.cellWith(value, findings, place, said);
  }

  private cellWith(
    value: CellContent,
    findings: ReadonlyMap<number, readonly Finding[]>,
    place: number,
    said: readonly string[],
  ): ExportCell {
    const { rows, marks } = this.parts;
    const here = findings.get(place) ?? [];
    const mutable = new Map([...findings].map(([at, list]) => [at, [...list]]));
    const severity = here[0]?.severity ?? rows.worstInFindings(mutable, place);
    if (severity === null && said.length === 0) return value;
    const texts = [marks.notesOf(here), ...said].filter((text) => text !== '');
    const note = texts.length === 0 ? null : texts.join('\n\n');
    return { value, severity, changed: false, note };
  }

  private markSeveral({ row, fixtures, stated }: RowGroup): void {
    const { rows, marks, ours } = this.parts;
    const united = new Map<number, Finding[]>();
    for (const fixture of fixtures) {
      for (const [place, list] of this.findingsOf(fixture)) {
        const all = united.get(place) ?? [];
        united.set(place, all);
        for (const finding of list) if (!all.includes(finding)) all.push(finding);
      }
    }
    for (const list of united.values()) list.sort((a, b) => marks.order(a) - marks.order(b));
    this.markTheirs(row, united);
    const left = stated !== null && stated > fixtures.length ? stated - fixtures.length : 0;
    const said = [
      `This row stands for ${fixtures.length} fixtures; each ${inOtherSheet} on a row of its own, with its edits.`,
      ...(left === 0
        ? []
        : [
            `${left} of the ${stated} stated here ${left === 1 ? 'is' : 'are'} ${NO_LONGER_IN_JOB}.`,
          ]),
    ];
    const cells = ours.map((place): ExportCell => {
      const column = rows.columns[place];
      if (column === undefined) return null;
      const value = this.summary(fixtures, column);
      return this.cellWith(value, united, place, place === this.findingsPlace ? said : []);
    });
    this.ourCells.set(row, cells);
  }

  private summary(fixtures: readonly Fixture[], column: ScheduleColumn): CellContent {
    if (column.from === 'own' && column.own.key === 'rowId') {
      return fixtures.map((fixture) => fixture.id).join(' ');
    }
    if (column.from === 'own' && column.own.key === 'findings') {
      const { marks } = this.parts;
      const all = new Set(fixtures.flatMap((fixture) => marks.ofRow(fixture.id)));
      return titlesOf([...all].sort((a, b) => marks.order(a) - marks.order(b)));
    }
    const values = fixtures.map((fixture) => this.valueOf(fixture, column));
    const isText = column.from === 'own' && column.own.key === 'locks';
    if (!isText) return summaryOf(values, column.shown);
    const texts = [...new Set(values.filter((value) => value !== null))];
    return texts.length === 0 ? null : texts.join('; ');
  }

  /** Rows that were read and have no fixture any more, in the order of the sheet. */
  private findGone(): number[] {
    const { facts, read, groups, goneRows } = this.parts;
    const gone = new Set(goneRows);
    const skipped = new Set(read.rowsSkipped.map(({ row }) => row));
    const filled = facts.filledRows ?? [];
    const candidates = filled.filter((row) => row > read.headerRow && !skipped.has(row));
    const there = new Set(groups.map(({ row }) => row));
    // Rows that are neither read nor skipped would be taken for removed ones.
    if (candidates.length === read.rowsRead) {
      for (const row of candidates) if (!there.has(row)) gone.add(row);
    }
    return [...gone].sort((a, b) => a - b);
  }

  private markGoneRow(row: number): void {
    const cells = this.parts.ours.map((place) =>
      place === this.findingsPlace ? NO_LONGER_IN_JOB : null,
    );
    this.ourCells.set(row, cells);
  }

  /** The rows a fixture has in this sheet, added ones too. */
  rowsOf(fixtureId: string): readonly number[] {
    return this.rowOf.get(fixtureId) ?? [];
  }

  /** Adds a fixture that no row of the file stands for. */
  addRow(fixture: Fixture, like: number | null): void {
    const findings = this.findingsOf(fixture);
    const row = this.nextRow;
    this.nextRow += 1;
    const unwritten: string[] = [];
    const theirs = this.sourcePlaces.flatMap(({ place, column, at, id, title }) => {
      if (at === null || id === null) return [];
      const out = this.parts.cells.cell(fixture, column);
      if (out.unsayable !== undefined) unwritten.push(this.edits.refuse({ title }, out.unsayable));
      const value = id === 'quantity' ? 1 : out.value;
      const list = findings.get(place) ?? [];
      const said = id === 'tag' ? [NEW_ROW] : [];
      const note = [this.parts.marks.notesOf(list), ...said].filter((t) => t !== '').join('\n\n');
      const cell: ExportCell = {
        value: value === UNKNOWN ? null : value,
        severity: list[0]?.severity ?? null,
        changed: true,
        note: note === '' ? null : note,
      };
      return value === null && list.length === 0 ? [] : [{ column: at, cell }];
    });
    const ours = this.parts.ours.map((place) =>
      this.ourCell(fixture, place, findings, place === this.findingsPlace ? unwritten : []),
    );
    this.addedRows.push({ row, like, theirs, ours });
    this.rowOf.set(fixture.id, [row]);
  }

  /** Column a mark on `id` stands in, zero-based. */
  columnOfMark(id: ColumnId): number {
    const place = this.parts.rows.placeOfMark(id, this.isThere);
    const theirs = this.sourcePlaces.find((one) => one.place === place)?.at ?? null;
    if (theirs !== null) return theirs;
    return this.firstColumn + Math.max(0, this.parts.ours.indexOf(place));
  }

  result(): SheetMarkUp {
    const { source, read, marks } = this.parts;
    const own = findOwnColumns(source.columns.map((column) => column.header));
    const before = [...own.keys()].flatMap((place) => columnOf(source, read, place) ?? []);
    const columnsRead = this.sourcePlaces.flatMap(({ id, at }) =>
      id === null || at === null ? [] : [at],
    );
    return {
      sheet: read.sheet,
      headerRow: read.headerRow,
      ownColumnsBefore: before.sort((a, b) => a - b),
      columnsRead,
      cells: this.marksHere.cells(marks),
      columns: this.shownOurs,
      firstColumn: this.firstColumn,
      rows: this.ourCells,
      added: this.addedRows,
    };
  }
}
