import type { Measured } from './measure.ts';

/** A row of the bad-input table. */
export interface TableRow {
  readonly title: string;
  readonly bytes: number;
  readonly measured: Measured;
  /** `*` in a process of its own, `†` by the reader alone, many files together. */
  readonly mark: '' | '*' | '†';
}

function messageOf({ outcome, threw }: Measured): readonly [result: string, message: string] {
  if (!outcome) return ['FAILED', threw ?? ''];
  if (!outcome.ok) {
    const { code, what, where } = outcome.refusal;
    return [code, `${what} (${where})`];
  }
  return ['read', outcome.remarks.join(' ') || 'nothing to say'];
}

function size(bytes: number): string {
  return bytes < 100_000 ? `${bytes} B` : `${(bytes / 1e6).toFixed(1)} MB`;
}

/** The table as text: a line a file. Memory is that of the whole process that reads. */
export function badInputTable(rows: readonly TableRow[]): string {
  const line = (title: string, ...cells: readonly string[]) => {
    const [bytes = '', ms = '', mb = '', result = '', message = ''] = cells;
    const numbers = `${bytes.padStart(9)}  ${ms.padStart(5)}  ${mb.padStart(5)}`;
    return `${title.padEnd(58)} ${numbers}  ${result.padEnd(18)} ${message}`;
  };
  const lines = rows.map(({ title, bytes, measured, mark }) => {
    const mb = `${measured.mb?.toFixed(0) ?? '–'}${mark || ' '}`;
    return line(title, size(bytes), measured.ms.toFixed(0), mb, ...messageOf(measured));
  });
  const slowest = Math.max(0, ...rows.map((row) => row.measured.ms));
  const largest = Math.max(0, ...rows.map((row) => row.measured.mb ?? 0));
  return [
    '\nBad input: what became of each file',
    line('file', 'size', 'ms', 'MB ', 'outcome', 'message (where)'),
    ...lines,
    `${rows.length} rows; slowest ${slowest.toFixed(0)} ms, most memory ${largest.toFixed(0)} MB.`,
    'ms: starting the worker, reading, finding the schedule. MB: peak of the whole process that reads,',
    'program and file in it. *: in a process of its own; the others one after the other in one process.',
    '†: stumps of one file, by the reader without worker, the slowest of them; memory not measured.',
  ].join('\n');
}
