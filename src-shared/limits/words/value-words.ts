/** Sentences about values: missing, unlikely, differing, not buildable. */
import type { LengthUnit } from '../../units/length.ts';
import { length, listed } from './shared-words.ts';

export function sayMissing(o: {
  what: string;
  where: string;
  tags: readonly string[];
  so: string;
}): string {
  const who = o.tags.length === 0 ? '' : ` Of ${listed(o.tags)}.`;
  return `Missing: ${o.what}, ${o.where}.${who} ${o.so}`;
}

export function sayUnlikely(o: {
  what: string;
  where: string;
  values: readonly string[];
  usual: string;
}): string {
  return `Unlikely ${o.what}, ${o.where}. ${listed(o.values)}; usual is ${o.usual}. Used as it stands: check the unit and the digits.`;
}

export function sayDiffering(o: {
  what: string;
  where: string;
  used: string;
  other: readonly string[];
  tags: readonly string[];
}): string {
  return `Rows differ in ${o.what}, ${o.where}. ${o.used} is used; ${listed(o.tags)} ${o.tags.length === 1 ? 'says' : 'say'} ${listed(o.other)}.`;
}

export function sayNoPieces(o: {
  run: string;
  tags: readonly string[];
  needM: number;
  unit: LengthUnit;
  why: string;
  buildable: boolean;
}): string {
  const head = o.buildable ? 'Many pieces in one span' : 'Span not buildable from stock';
  return `${head}, run ${o.run}. ${length(o.needM, o.unit)} at ${listed(o.tags)}: ${o.why}.`;
}
