/** The columns of all sheets that were read as one list, and where each stands in a sheet. */
import type { SourceColumn } from '../../document/project.ts';
import type { SheetPart } from './sheet-part.ts';

export interface SourceColumns {
  readonly columns: readonly SourceColumn[];
  /** Zero-based sheet column of each of `columns`; null: the sheet does not have it. */
  readonly columnAt: ReadonlyMap<SheetPart, readonly (number | null)[]>;
}

function keyOf({ header, columnId, unit }: SourceColumn): string {
  return JSON.stringify([header, columnId, unit]);
}

/** How a sheet is told from the others behind a header: by its name, one of a further file by the file's. */
export function labelOf(file: number, fileName: string, sheet: string): string {
  return file === 0 ? sheet : fileName;
}

/** A header not taken yet: one that was read otherwise on another sheet carries its label. */
function freeName(header: string, sheet: string, taken: ReadonlySet<string>): string {
  let free = header;
  for (let n = 1; taken.has(free); n += 1) {
    free = n === 1 ? `${header} (${sheet})` : `${header} (${sheet} ${n})`;
  }
  return free;
}

/** Columns with the same header that were read as the same are one, in order of first appearance. */
export function sourceColumns(parts: readonly SheetPart[]): SourceColumns {
  const places = new Map<string, number>();
  const columns: SourceColumn[] = [];
  const taken = new Set<string>();
  const at = new Map<SheetPart, Map<number, number>>();
  for (const part of parts) {
    const own = new Map<number, number>();
    at.set(part, own);
    for (const { header, columnId, unit, column } of part.plan.columns) {
      const key = keyOf({ header, columnId, unit });
      let place = places.get(key);
      if (place === undefined) {
        place = columns.length;
        places.set(key, place);
        const name = freeName(header, part.label, taken);
        taken.add(name);
        columns.push({ header: name, columnId, unit });
      }
      own.set(place, column);
    }
  }
  const columnAt = new Map(
    parts.map((part) => [part, columns.map((_, place) => at.get(part)?.get(place) ?? null)]),
  );
  return { columns, columnAt };
}
