import type { SupplyLevel } from '../../solve/run-result.ts';
import { formatLength, formatNumber } from '../../units/format-quantity.ts';
import type { LengthUnit } from '../../units/length.ts';

/** "at nominal supply", "at −5 % supply". */
export function atSupply(level: SupplyLevel, tolerancePct: number): string {
  if (level === 'nominal') return 'at nominal supply';
  return `at ${level === 'low' ? '−' : '+'}${formatNumber(tolerancePct, 1).replace(/\.0$/, '')} % supply`;
}

/** "A-01, A-02 and 4 more"; never the whole schedule. */
export function listed(names: readonly string[], most = 6): string {
  const shown = names.slice(0, most);
  const more = names.length - shown.length;
  if (more > 0) return `${shown.join(', ')} and ${more} more`;
  const last = shown.at(-1) ?? '';
  return shown.length < 2 ? last : `${shown.slice(0, -1).join(', ')} and ${last}`;
}

export function amps(valueA: number): string {
  return `${formatNumber(valueA, 2)} A`;
}

export function volts(valueV: number): string {
  return `${formatNumber(valueV, 1)} V`;
}

/** Rounded where round, else one decimal: "347 V", "346.5 V". */
export function ratedVolts(valueV: number): string {
  return `${Number.isInteger(valueV) ? valueV : formatNumber(valueV, 1)} V`;
}

export function ratedAmps(valueA: number): string {
  return `${Number.isInteger(valueA) ? valueA : formatNumber(valueA, 2)} A`;
}

export function percent(value: number): string {
  return `${formatNumber(value, 2)} %`;
}

export function length(valueM: number, unit: LengthUnit): string {
  return formatLength(valueM, unit);
}

/** "1 slot", "4 slots". */
export function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}
