/** SI unit of each dimension as it is spelt inside a sum's expression. */
import type { Dimension } from './quantity.ts';

export const siSymbols: Readonly<Record<Exclude<Dimension, 'none' | 'temperature'>, string>> = {
  length: 'm',
  power: 'W',
  current: 'A',
  voltage: 'V',
  resistance: 'ohm',
  resistancePerLength: 'ohmperkm',
  percent: 'percentpoint',
};
