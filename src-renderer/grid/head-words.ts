/** What a run's head row says: the run in one line. */
import { listedLengthM } from '../../src-shared/limits/rules/run-length.limit.ts';
import { worstDrop } from '../../src-shared/solve/run-result.ts';
import {
  formatLengthNumber,
  formatNumber,
  formatPercent,
} from '../../src-shared/units/format-quantity.ts';
import type { LengthUnit } from '../../src-shared/units/length.ts';
import type { HeadRow } from '../state/row-model.ts';

export interface HeadWords {
  readonly name: string;
  readonly circuit: string;
  readonly volts: string;
  readonly fixtures: string;
  readonly amps: string;
  /** Head amps against the rating, 0 to 1 and over; null: no bar. */
  readonly ampsShare: number | null;
  readonly drop: string;
  readonly length: string;
}

const counted = (count: number) => `${count} ${count === 1 ? 'fixture' : 'fixtures'}`;

function ampsWords(row: HeadRow): Pick<HeadWords, 'amps' | 'ampsShare'> {
  const { run } = row;
  if (run === null) return { amps: '', ampsShare: null };
  if (run.solved === false) return { amps: 'no operating point', ampsShare: null };
  if (run.nominal === null) return { amps: 'not solved', ampsShare: null };
  const ratingA = run.line?.ratingA ?? null;
  const headA = formatNumber(run.nominal.headA, 2);
  if (ratingA === null) return { amps: `${headA} A`, ampsShare: null };
  return { amps: `${headA} of ${ratingA} A`, ampsShare: run.nominal.headA / ratingA };
}

export function headWords(row: HeadRow, unit: LengthUnit): HeadWords {
  const { run } = row;
  if (run === null) {
    const blank = { circuit: '', volts: '', amps: '', ampsShare: null, drop: '', length: '' };
    return { ...blank, name: 'No run yet', fixtures: counted(row.fixtures) };
  }
  const { circuit } = run;
  const worst = run.nominal === null ? null : worstDrop(run.nominal);
  const installed = formatLengthNumber(run.installedTotalM, unit, 1);
  const listed = run.supplyV === null ? null : listedLengthM(run.line, run.supplyV);
  const of = listed === null ? '' : ` of ${formatLengthNumber(listed, unit, 1)}`;
  return {
    name: run.run.name,
    circuit: [circuit.panel, circuit.name].filter((word) => word !== null).join(' '),
    volts: run.supplyV === null ? 'volts not given' : `${formatNumber(run.supplyV, 0)} V`,
    fixtures: counted(row.fixtures),
    ...ampsWords(row),
    drop: worst === null ? '' : `drop ${formatPercent(worst.dropPct, 2)}`,
    length: installed === '' ? '' : `${installed}${of} ${unit}`,
  };
}
