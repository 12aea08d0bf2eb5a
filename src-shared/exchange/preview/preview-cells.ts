/** What the import report says of single cells, for the preview of a source sheet. */
import type { Confidence, ImportAnswers, Reading, ScheduleSource } from '../../document/project.ts';
import type { CellFinder } from '../schedule/cell-place.ts';

/** What a previewed cell shows beside its text. */
export interface PreviewCell {
  /** The least sure of its readings. */
  readonly confidence: Confidence;
  /** The engineer has said how it is to be read. */
  readonly answered: boolean;
  /** The engineer has looked at every reading of it and taken it as it is. */
  readonly accepted: boolean;
  readonly note: string;
  /** A text it may be read as instead. */
  readonly offer: string | null;
  /** The text it was read as where that is not what stands in the file; `''`: left blank. */
  readonly text?: string;
}

const order: readonly Confidence[] = ['sure', 'likely', 'guess', 'refused'];

/** Key of a reading among those accepted. */
function acceptedKey({ cell, column, raw }: Pick<Reading, 'cell' | 'column' | 'raw'>): string {
  return JSON.stringify([cell, column, raw]);
}

class PreviewMaker {
  private readonly answers: ReadonlyMap<string, ImportAnswers['cells'][number]>;
  private readonly accepted: ReadonlySet<string>;

  constructor({ cells, accepted }: ImportAnswers) {
    this.answers = new Map(cells.map((answer) => [answer.cell, answer]));
    this.accepted = new Set(accepted.map(acceptedKey));
  }

  of(cell: string, readings: readonly Reading[]): PreviewCell {
    const worst = readings.reduce<Confidence>(
      (least, { confidence }) =>
        order.indexOf(confidence) > order.indexOf(least) ? confidence : least,
      'sure',
    );
    const known = this.answers.get(cell);
    // An answer for another text than the file has is not in force.
    const answer = readings.some(({ raw }) => raw === known?.raw) ? known : undefined;
    return {
      confidence: worst,
      answered: answer !== undefined,
      accepted: readings.every((reading) => this.accepted.has(acceptedKey(reading))),
      note: readings.map(({ note }) => note).join('\n'),
      offer: readings.find(({ offer }) => offer !== undefined)?.offer ?? null,
      ...(answer === undefined ? {} : { text: answer.text ?? '' }),
    };
  }
}

/** Previewed cells of one sheet by row and column. */
export type CellsOfSheet = ReadonlyMap<number, ReadonlyMap<number, PreviewCell>>;

/** Key of a sheet among those of all files. */
export function sheetKey(file: number, sheet: string): string {
  return `${file}/${sheet}`;
}

/** Readings of all sheets by their places; a remark on a whole file stands at no cell. */
export function previewCells(
  source: ScheduleSource,
  finder: CellFinder,
): ReadonlyMap<string, CellsOfSheet> {
  const byCell = new Map<string, Reading[]>();
  for (const reading of source.readings) {
    const list = byCell.get(reading.cell);
    if (list === undefined) byCell.set(reading.cell, [reading]);
    else list.push(reading);
  }
  const maker = new PreviewMaker(source.answers);
  const sheets = new Map<string, Map<number, Map<number, PreviewCell>>>();
  for (const [name, readings] of byCell) {
    const place = finder.find(name);
    if (place === null) continue;
    const key = sheetKey(place.file, place.sheet);
    const rows = sheets.get(key) ?? new Map<number, Map<number, PreviewCell>>();
    sheets.set(key, rows);
    const cells = rows.get(place.row) ?? new Map<number, PreviewCell>();
    rows.set(place.row, cells);
    cells.set(place.column, maker.of(name, readings));
  }
  return sheets;
}
