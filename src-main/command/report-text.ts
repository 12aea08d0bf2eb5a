/** The check command's result as words, for a person at a terminal. Never by colour. */
import type { CheckReport } from '../../src-shared/exchange/check-report.ts';
import { summarySentence } from '../../src-shared/limits/finding.ts';
import { formatNumber } from '../../src-shared/units/format-quantity.ts';

const letters = { stop: 'S', breach: 'B', watch: 'W', note: 'N', 'not-checked': '?' } as const;

function runLine(run: CheckReport['runs'][number]): string {
  const number = (value: number | null, decimals: number, unit: string) =>
    value === null ? 'unknown' : `${formatNumber(value, decimals)} ${unit}`;
  const state =
    run.solved === true
      ? ''
      : run.solved === false
        ? ', no operating point'
        : ', not solved: a value is missing';
  return `  ${run.id}: ${run.fixtures} fixtures at ${run.supplyV ?? '?'} V, head ${number(run.headCurrentA, 3, 'A')}, worst drop ${number(run.worstDropPct, 2, '%')}, installed ${number(run.installedM, 2, 'm')}${state}`;
}

/** `sheets`: those the schedule was read from. Runs, findings worst first with remedies, what was assumed, counts, and the caution. */
export function reportText(report: CheckReport, sheets: readonly string[]): string {
  const { input, counts } = report;
  const read = sheets.length > 1 ? `sheets ${sheets.join(', ')}` : `sheet ${input.sheet}`;
  const lines = [
    `${input.file}${input.sheet === null ? '' : `, ${read}`}: ${input.rowsRead} rows read, ${input.rowsSkipped.length} skipped, ${input.readings.length} readings to look at`,
    '',
    'Runs',
    ...report.runs.map(runLine),
    '',
    'Findings',
    ...report.findings.flatMap((f) => [
      `  ${letters[f.severity]}  ${f.message}`,
      ...f.remedies.map((remedy) => `       Try: ${remedy}`),
    ]),
    '',
    `Assumed (${report.assumptions.length})`,
    ...report.assumptions.map(
      (a) => `  ${a.what}: ${a.value}${a.unit === null ? '' : ` ${a.unit}`} (${a.from})`,
    ),
    '',
    summarySentence(counts),
    'Planning aid. Not a substitute for design and approval by a licensed engineer/electrician under locally adopted code. Check values and limits before use.',
  ];
  return `${lines.join('\n')}\n`;
}
