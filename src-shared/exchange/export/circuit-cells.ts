/** Circuits in sheets that write panel and circuit in one cell. */
import type { Fixture, RowOrigin } from '../../document/project.ts';
import type { CellContent } from './export-table.ts';
import type { SourceCellOut } from './source-cell-out.ts';
import type { SourceRows } from './source-rows.ts';
import { type StatedIndex, statedValue } from './stated-value.ts';

/** `LP-3/14,16`: a panel and its circuit in one cell, as the import takes them apart. */
const panelAndCircuit = /^(.*\p{L}.*?)\s*[/:]\s*(\d+(?:\s*[,/+&-]\s*\d+)*)$/u;

export class CircuitCells {
  private readonly joining = new Map<string, boolean>();

  constructor(
    private readonly rows: SourceRows,
    private readonly index: StatedIndex,
    private readonly isPlaced: boolean,
  ) {}

  /** The cell where panel and circuit stand together; null: it is one like any other. */
  cell(
    fixture: Fixture,
    origin: RowOrigin | null,
    raw: CellContent,
    place: number,
  ): SourceCellOut | null {
    const { isPlaced } = this;
    const like = origin ?? (isPlaced ? this.rows.likelyOrigin(place) : null);
    if (like === null || fixture.run === null || !this.joinsPanel(like, place)) return null;
    const [panel, circuit] = (['panel', 'circuit'] as const).map((id) =>
      statedValue(fixture, id, this.index),
    );
    if (typeof circuit !== 'string') return null;
    const text = raw === null ? '' : String(raw);
    const found = panelAndCircuit.exec(text);
    const same = found?.[1]?.trim() === panel && found?.[2] === circuit;
    if (same && isPlaced) return { value: raw, was: null };
    if (raw === null && !this.rows.isFirstOfRun(fixture)) return null;
    const stands = raw === null && this.rows.isWritten(fixture.run, place);
    if (stands && isPlaced) return { value: null, was: null };
    const value = isPlaced && typeof panel === 'string' ? `${panel}/${circuit}` : circuit;
    const back = panelAndCircuit.exec(value);
    const isSaid =
      typeof panel === 'string' ? back?.[1] === panel && back[2] === circuit : back === null;
    if (isPlaced && !isSaid) {
      const unsayable = 'panel and circuit stand in one cell, and these would be read otherwise';
      return { value: raw, was: text, unsayable };
    }
    return { value, was: origin === null || same || stands ? null : text };
  }

  /** The sheet writes panel and circuit in one cell, such as `LP-3/14,16`. */
  joinsPanel(origin: RowOrigin, place: number): boolean {
    const key = `${origin.file}\u0000${origin.sheet}`;
    let joins = this.joining.get(key);
    if (joins === undefined) {
      joins =
        !this.rows.sheetHas(origin, 'panel') &&
        this.rows.project.fixtures.some((fixture) => {
          const raw = this.rows
            .origins(fixture)
            .find((o) => o.file === origin.file && o.sheet === origin.sheet)?.cells[place];
          return typeof raw === 'string' && panelAndCircuit.test(raw);
        });
      this.joining.set(key, joins);
    }
    return joins;
  }
}
