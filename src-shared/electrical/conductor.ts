import {
  AWG_STRANDED_OHM_PER_KFT,
  KM_PER_KFT,
  MM2_CLASS5_OHM_PER_KM_20C,
  MM2_CONDUCTOR_TEMPERATURE_C,
} from './conductor-tables.ts';
import { awgNumber, copperTemperatureFactor } from './copper.ts';

/** A conductor size as printed on the cable: a gauge ("12", "1/0") or a nominal area in mm². */
export type ConductorSize =
  | { readonly system: 'awg'; readonly gauge: string }
  | { readonly system: 'mm2'; readonly areaMm2: number };

/**
 * Hot resistance of one conductor in ohm/km (half the loop), or null when the size is not in the
 * tables.
 *
 * AWG: NEC Chapter 9 Table 8, stranded uncoated copper, 75 °C, the ohm/kft column ÷ 0.3048.
 * mm²: IEC 60228 class 5 plain copper at 20 °C × (1 + 0.00393·50), that is at 70 °C.
 */
export function conductorResistanceOhmPerKm(size: ConductorSize): number | null {
  if (size.system === 'awg') {
    const n = awgNumber(size.gauge);
    if (n === null) return null;
    const ohmPerKft = AWG_STRANDED_OHM_PER_KFT.get(n > 0 ? String(n) : `${1 - n}/0`);
    return ohmPerKft === undefined ? null : ohmPerKft / KM_PER_KFT;
  }
  const ohmPerKm20C = MM2_CLASS5_OHM_PER_KM_20C.get(size.areaMm2);
  return ohmPerKm20C === undefined
    ? null
    : ohmPerKm20C * copperTemperatureFactor(MM2_CONDUCTOR_TEMPERATURE_C);
}

/**
 * Loop resistance (or reactance) in ohm of a two-conductor segment: both conductors over
 * `lengthM` at `ohmPerKm` each, and `joints` mated joints of `jointOhm` in each conductor:
 * 2·L·r + 2·joints·Rc.
 */
export function segmentLoopOhm(
  lengthM: number,
  ohmPerKm: number,
  joints = 0,
  jointOhm = 0,
): number {
  return (2 * lengthM * ohmPerKm) / 1000 + 2 * joints * jointOhm;
}

/** NEC 240.4(D), small copper conductors; from memory, verify in the adopted edition. */
const SMALL_CONDUCTOR_BREAKER_A: ReadonlyMap<string, number> = new Map([
  ['14', 15],
  ['12', 20],
  ['10', 30],
]);

/** Largest breaker a small copper conductor may stand behind in North America, A; null for other sizes. */
export function smallConductorBreakerA(size: ConductorSize): number | null {
  return size.system === 'awg' ? (SMALL_CONDUCTOR_BREAKER_A.get(size.gauge) ?? null) : null;
}
