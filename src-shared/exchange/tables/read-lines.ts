/** Cable systems: conductor, resistance, rating, limits of length, stock. */
import { blankLine } from '../../document/blank.ts';
import type { Line, PieceChoice, ProfileId } from '../../document/project.ts';
import type { SourceRow, SourceSheet } from '../../document/source-workbook.ts';
import { told } from '../schedule/cell-reading.ts';
import { looseKey } from '../schedule/cell-text.ts';
import { headerUnit } from '../schedule/header-words.ts';
import { readCountCell } from '../schedule/read-count-cell.ts';
import { readNamedConductor } from '../schedule/read-text-cell.ts';
import type { ReadingLog } from '../schedule/reading-log.ts';
import { readLengthLimits, readLengths } from './length-words.ts';
import { TableReader } from './table-reader.ts';
import { cellOf, findTable, isTableNote, type TableSheet } from './table-sheet.ts';

export type LineField =
  | 'name'
  | 'conductor'
  | 'resistance'
  | 'reactance'
  | 'rating'
  | 'upstreamBreaker'
  | 'maxLength'
  | 'jumpers'
  | 'leadIns'
  | 'leadInCut'
  | 'pieces'
  | 'conductorsPerFixture'
  | 'conductorsPerHeadBox'
  | 'listed';

const words = new Map<LineField, readonly string[]>([
  ['name', ['line', 'cable system', 'line name', 'system', 'cable line', 'line system']],
  ['conductor', ['conductor', 'wire', 'wire size', 'conductor size', 'size', 'csa', 'awg', 'gauge', 'cable size']],
  ['resistance', ['resistance', 'resistance hot', 'hot resistance', 'r', 'r hot', 'conductor resistance', 'resistance per conductor', 'resistance per conductor hot']],
  ['reactance', ['reactance', 'x', 'reactance per conductor', 'conductor reactance']],
  ['rating', ['rating', 'line rating', 'rated current', 'current rating', 'max current', 'max a', 'rating max']],
  ['upstreamBreaker', ['upstream breaker max', 'max upstream breaker', 'upstream breaker', 'max breaker', 'breaker max']],
  ['maxLength', ['max length by supply', 'max length', 'maximum length', 'length limit', 'length limits', 'listed length', 'max run length', 'max run']],
  ['jumpers', ['jumpers', 'jumper lengths', 'jumper', 'stock lengths', 'stock jumpers']],
  ['leadIns', ['lead ins', 'lead in', 'leadins', 'lead in lengths', 'stock lead ins']],
  ['leadInCut', ['lead in cut at box', 'lead in cuttable', 'lead ins cuttable', 'cut at box', 'lead in cut']],
  ['pieces', ['pieces', 'choice of pieces', 'pieces chosen by', 'piece choice']],
  ['conductorsPerFixture', ['conductors per fixture', 'terminations per fixture']],
  ['conductorsPerHeadBox', ['conductors per head box', 'terminations per head box']],
  ['listed', ['listed for power and data', 'power and data', 'listed power and data', 'listed']],
]); // biome-ignore format: a table

const namedSheets = ['lines', 'line', 'cable systems', 'cables', 'cable lines'];
const telling: readonly LineField[] = [
  'resistance',
  'jumpers',
  'maxLength',
  'upstreamBreaker',
  'leadIns',
];

/** Finds the table of lines on a sheet; null when it holds none. */
export function findLinesTable(sheet: SourceSheet): TableSheet<LineField> | null {
  const table = findTable(sheet, words, 2);
  if (table === null) return null;
  const sure = table.columns.some((c) => telling.includes(c.field));
  return sure || namedSheets.includes(looseKey(sheet.name)) ? table : null;
}

function readPieces(text: string): { value: PieceChoice | null; refusal: string | null } {
  const word = text.toLowerCase();
  if (/fewest|joints/u.test(word)) return { value: 'fewest-joints', refusal: null };
  if (/least|excess|waste/u.test(word)) return { value: 'least-excess', refusal: null };
  return { value: null, refusal: 'write fewest joints or least excess' };
}

class LineReader {
  private readonly reader: TableReader<LineField>;
  constructor(
    private readonly table: TableSheet<LineField>,
    log: ReadingLog,
    private readonly profile: ProfileId,
  ) {
    this.reader = new TableReader(table, log);
  }

  read(into: Map<string, Line>): void {
    for (const row of this.table.rows) {
      const name = this.reader.text(row, 'name', 'line');
      if (cellOf(this.table, row, 'name') === undefined) this.reader.tellNameless(row, 'line');
      if (name === null || isTableNote(name) || this.reader.isStruck(row)) continue;
      if (!into.has(looseKey(name))) {
        into.set(looseKey(name), this.line(row, name));
        continue;
      }
      const cell = cellOf(this.table, row, 'name');
      const note = 'the line stands twice: its first row holds';
      if (cell !== undefined) this.reader.tell(row, cell, 'line', told(name, 'guess', note));
    }
  }

  private header(field: LineField): string {
    return this.table.columns.find((c) => c.field === field)?.header ?? '';
  }

  private ohm(row: SourceRow, field: 'resistance' | 'reactance'): number | null {
    const unit = headerUnit(this.header(field), ['resistancePerLength']);
    return this.reader.quantity(row, field, 'resistancePerLength', unit);
  }

  private count(row: SourceRow, field: LineField): number | null {
    const cell = cellOf(this.table, row, field);
    if (cell === undefined) return null;
    return this.reader.tell(row, cell, null, readCountCell(cell, 'quantity'));
  }

  private conductor(row: SourceRow): string | null {
    const cell = cellOf(this.table, row, 'conductor');
    if (cell === undefined) return null;
    const header = this.header('conductor').toLowerCase();
    const unit = /awg|gauge/u.test(header) ? 'AWG' : /mm|csa/u.test(header) ? 'mm²' : null;
    return this.reader.tell(row, cell, 'conductor', readNamedConductor(cell, unit, this.profile));
  }

  private line(row: SourceRow, name: string): Line {
    const { reader } = this;
    const blank = blankLine(name);
    const lengthUnit = (field: LineField) => headerUnit(this.header(field), ['length']);
    const lengths = (field: 'jumpers' | 'leadIns') =>
      reader.parsed(row, field, null, (text) => readLengths(text, lengthUnit(field))) ?? [];
    const limits = reader.parsed(row, 'maxLength', null, (text) =>
      readLengthLimits(text, lengthUnit('maxLength')),
    );
    return {
      ...blank,
      conductor: this.conductor(row),
      resistanceOhmPerKm: this.ohm(row, 'resistance'),
      reactanceOhmPerKm: this.ohm(row, 'reactance'),
      ratingA: reader.quantity(row, 'rating', 'current', 'A'),
      maxUpstreamBreakerA: reader.quantity(row, 'upstreamBreaker', 'current', 'A', 'breaker'),
      lengthLimits: limits?.limits ?? [],
      maxLengthM: limits?.maxLengthM ?? null,
      jumperLengthsM: lengths('jumpers'),
      leadInLengthsM: lengths('leadIns'),
      leadInCuttable: reader.truth(row, 'leadInCut') ?? blank.leadInCuttable,
      pieceChoice: reader.parsed(row, 'pieces', null, readPieces) ?? blank.pieceChoice,
      conductorsPerFixture: this.count(row, 'conductorsPerFixture') ?? blank.conductorsPerFixture,
      conductorsPerHeadBox: this.count(row, 'conductorsPerHeadBox') ?? blank.conductorsPerHeadBox,
      listedPowerAndData: reader.truth(row, 'listed'),
    };
  }
}

/** All lines in order; one named twice keeps its first row. */
export function readLines(
  tables: readonly TableSheet<LineField>[],
  log: ReadingLog,
  profile: ProfileId,
): Line[] {
  const byKey = new Map<string, Line>();
  for (const table of tables) new LineReader(table, log, profile).read(byKey);
  return [...byKey.values()];
}
