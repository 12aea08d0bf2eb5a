import { readFileSync } from 'node:fs';

/** One row of a reference table by column name; cells are text as printed. */
export class ReferenceRow {
  private readonly cells: ReadonlyMap<string, string>;

  constructor(cells: ReadonlyMap<string, string>) {
    this.cells = cells;
  }

  text(column: string): string {
    const cell = this.cells.get(column);
    if (cell === undefined) throw new Error(`no column "${column}"`);
    return cell;
  }

  /** The cell as a number; an empty cell is an error, never 0. */
  number(column: string): number {
    const text = this.text(column);
    const value = Number(text);
    if (text === '' || Number.isNaN(value)) throw new Error(`"${text}" in "${column}": no number`);
    return value;
  }
}

/** Rows of `tests/reference/<name>.csv` (RFC 4180 quoting, no line breaks inside cells). */
export function readReference(name: string): ReferenceRow[] {
  const text = readFileSync(new URL(`./${name}.csv`, import.meta.url), 'utf8');
  const [header, ...rows] = text
    .split(/\r?\n/)
    .filter((line) => line !== '')
    .map(cellsOf);
  if (header === undefined) throw new Error(`${name}.csv is empty`);
  return rows.map(
    (row) => new ReferenceRow(new Map(header.map((column, index) => [column, row[index] ?? '']))),
  );
}

function cellsOf(line: string): string[] {
  const cells = line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g);
  return [...cells].map(([, quoted, bare]) => quoted?.replaceAll('""', '"') ?? bare ?? '');
}
