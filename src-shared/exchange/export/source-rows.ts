/** The rows of the source a fixture came from, by column. */
import type { ColumnId } from '../../columns/column-table.ts';
import { columnOf, originsOf } from '../../document/import-answers.ts';
import type { Fixture, Project, RowOrigin, ScheduleSource } from '../../document/project.ts';
import { cleanText } from '../schedule/cell-text.ts';
import type { CellContent } from './export-table.ts';

/** One key for one row of one sheet of one file. */
function rowKey({ file, sheet, row }: RowOrigin): string {
  return `${file}\u0000${sheet}\u0000${row}`;
}

/** A text of blanks only is no content. */
function notBlank(raw: CellContent): CellContent {
  return typeof raw === 'string' && cleanText(raw) === '' ? null : raw;
}

/** Looks up source rows; `file`: only those of one file count. */
export class SourceRows {
  private readonly ids: readonly (string | null)[];
  private readonly counts = new Map<string, number>();
  private readonly firstOfRun = new Map<string, string>();
  /** Runs with something written in a column, by place of the column. */
  private readonly writtenRuns: readonly Set<string>[];

  constructor(
    readonly project: Project,
    readonly source: ScheduleSource,
    private readonly file: number | undefined,
  ) {
    this.ids = source.columns.map(({ columnId }) => columnId);
    this.writtenRuns = source.columns.map(() => new Set());
    for (const fixture of project.fixtures) {
      const { run, id } = fixture;
      if (run !== null && !this.firstOfRun.has(run)) this.firstOfRun.set(run, id);
      for (const origin of this.origins(fixture)) {
        const key = rowKey(origin);
        this.counts.set(key, (this.counts.get(key) ?? 0) + 1);
        if (run === null) continue;
        origin.cells.forEach((cell, place) => {
          if (cell !== null) this.writtenRuns[place]?.add(run);
        });
      }
    }
  }

  origins(fixture: Fixture): readonly RowOrigin[] {
    const { file } = this;
    const all = originsOf(fixture);
    return file === undefined ? all : all.filter((origin) => origin.file === file);
  }

  /** The source row that has the column, the first with something in it; the first of all where none has. */
  originAt(fixture: Fixture, place: number): RowOrigin | null {
    const [first = null, ...more] = this.origins(fixture);
    if (more.length === 0) return first;
    const having = [first, ...more].filter(
      (origin) => origin !== null && columnOf(this.source, origin, place) !== null,
    );
    return (
      having.find((origin) => notBlank(origin?.cells[place] ?? null) !== null) ?? having[0] ?? first
    );
  }

  /** The row's sheet lacks the column and has another that says the same: files name it differently. */
  hasTwin(fixture: Fixture, place: number): boolean {
    const id = this.ids[place] ?? null;
    const origin = this.originAt(fixture, place);
    if (id === null || origin === null || columnOf(this.source, origin, place) !== null)
      return false;
    return this.ids.some(
      (one, other) => one === id && columnOf(this.source, origin, other) !== null,
    );
  }

  /** What stands there; null for blanks. */
  rawAt(fixture: Fixture, place: number): CellContent {
    return notBlank(this.originAt(fixture, place)?.cells[place] ?? null);
  }

  /** The row in which a run's values must stand when they stand nowhere else. */
  isFirstOfRun(fixture: Fixture): boolean {
    return fixture.run !== null && this.firstOfRun.get(fixture.run) === fixture.id;
  }

  /** Fixtures a row stands for. */
  countAt(origin: RowOrigin): number {
    return this.counts.get(rowKey(origin)) ?? 1;
  }

  /** Some row of the run has something in the column. */
  isWritten(run: string | null, place: number): boolean {
    return run !== null && this.writtenRuns[place]?.has(run) === true;
  }

  /** Whether the sheet of a row has a column for `id`. */
  sheetHas(origin: RowOrigin, id: ColumnId): boolean {
    return this.ids.some(
      (one, place) => one === id && columnOf(this.source, origin, place) !== null,
    );
  }

  /** A row of the file for one that has none: new rows are written like the others. */
  likelyOrigin(place: number): RowOrigin | null {
    for (const fixture of this.project.fixtures) {
      const found = this.origins(fixture).find((o) => columnOf(this.source, o, place) !== null);
      if (found !== undefined) return found;
    }
    return null;
  }
}
