/** Marks gathered for the engineer's own cells: findings, changes, and both at once. */
import type { Finding } from '../../limits/finding.ts';
import type { CellContent } from './export-table.ts';
import type { FindingMarks } from './finding-marks.ts';
import type { CellMarkUp } from './markup-plan.ts';

interface Gathered {
  readonly row: number;
  readonly column: number;
  readonly findings: Set<Finding>;
  change: { readonly value: CellContent; readonly remark: string } | null;
}

export class CellMarks {
  private readonly all = new Map<string, Gathered>();

  private at(row: number, column: number): Gathered {
    const key = `${row} ${column}`;
    let found = this.all.get(key);
    if (found === undefined) {
      found = { row, column, findings: new Set(), change: null };
      this.all.set(key, found);
    }
    return found;
  }

  mark(row: number, column: number, findings: readonly Finding[]): void {
    const { findings: here } = this.at(row, column);
    for (const finding of findings) here.add(finding);
  }

  isChanged(row: number, column: number): boolean {
    return (this.all.get(`${row} ${column}`)?.change ?? null) !== null;
  }

  change(row: number, column: number, value: CellContent, remark: string): void {
    this.at(row, column).change = { value, remark };
  }

  /** All cells, each once; the findings of a note stand worst first, then what was changed. */
  cells(marks: FindingMarks): CellMarkUp[] {
    return [...this.all.values()].map(({ row, column, findings, change }) => {
      const sorted = [...findings].sort((a, b) => marks.order(a) - marks.order(b));
      const texts = [marks.notesOf(sorted), change?.remark ?? ''].filter((text) => text !== '');
      return {
        row,
        column,
        cell: {
          value: change?.value ?? null,
          severity: sorted[0]?.severity ?? null,
          changed: change !== null,
          note: texts.length === 0 ? null : texts.join('\n\n'),
        },
      };
    });
  }
}
