import type { RunResult } from '../../solve/run-result.ts';
import { formatNumber } from '../../units/format-quantity.ts';
import { ratedVolts } from '../words/shared-words.ts';

/** "12 × 280 W, 347 V, pf 0.95": what a run carries, in words. */
export function loadsInWords(run: RunResult): string {
  const groups = new Map<string, number>();
  const factors = new Set<number>();
  for (const { loadW, powerFactor } of run.facts) {
    const key = loadW === null ? '? W' : `${trimmed(loadW)} W`;
    groups.set(key, (groups.get(key) ?? 0) + 1);
    if (powerFactor !== null) factors.add(powerFactor);
  }
  const loads = [...groups].slice(0, 4).map(([watts, count]) => `${count} × ${watts}`);
  const more = groups.size > 4 ? ' and others' : '';
  const volts = run.supplyV === null ? '' : `, ${ratedVolts(run.supplyV)}`;
  const pf = factors.size === 0 ? '' : `, pf ${[...factors].slice(0, 3).map(trimmed).join('/')}`;
  return `${loads.join(' + ')}${more}${volts}${pf}`;
}

function trimmed(value: number): string {
  return formatNumber(value, 3).replace(/\.?0+$/, '');
}
