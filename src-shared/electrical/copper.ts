/**
 * Copper conductors from first principles: the size formula, the resistivity and the temperature
 * rule that the printed tables come from.
 */

/**
 * Resistivity of annealed copper at 20 °C in ohm·mm²/m (100 % of the International Annealed Copper
 * Standard, IEC 60028).
 */
export const COPPER_RESISTIVITY_20C_OHM_MM2_PER_M = 0.017241;

/** Temperature coefficient of annealed copper at 20 °C, per kelvin (IEC 60028). */
export const COPPER_TEMPERATURE_COEFFICIENT_PER_K = 0.00393;

/** A stranded conductor is this much longer than it looks, by its lay: 2 % (ASTM B8 allowance). */
export const STRANDING_FACTOR = 1.02;

const MM_PER_INCH = 25.4;

/**
 * The number n of a gauge in the ASTM B258 formula: "12" → 12, "1/0" or "0" → 0, "4/0" → −3.
 * Anything that is not a gauge from 4/0 to 40 → null.
 */
export function awgNumber(gauge: string): number | null {
  const text = gauge.trim();
  const aught = /^([1-4])\/0$/.exec(text);
  if (aught) return 1 - Number(aught[1]);
  if (/^0{1,4}$/.test(text)) return 1 - text.length;
  if (!/^[1-9]\d?$/.test(text)) return null;
  const n = Number(text);
  return n <= 40 ? n : null;
}

/** Diameter in mm of the solid wire of gauge number `n`: 0.005 in × 92^((36 − n)/39) (ASTM B258). */
export function awgDiameterMm(n: number): number {
  return 0.005 * MM_PER_INCH * 92 ** ((36 - n) / 39);
}

/** Area in mm² of the solid wire of gauge number `n`: π·d²/4. */
export function awgAreaMm2(n: number): number {
  return (Math.PI / 4) * awgDiameterMm(n) ** 2;
}

/** Resistance at 20 °C in ohm/km of a solid annealed copper wire of `areaMm2` (IEC 60028). */
export function copperOhmPerKm20C(areaMm2: number): number {
  return (1000 * COPPER_RESISTIVITY_20C_OHM_MM2_PER_M) / areaMm2;
}

/** Factor from the 20 °C resistance of copper to that at `temperatureC`: 1 + α·(T − 20). */
export function copperTemperatureFactor(temperatureC: number): number {
  return 1 + COPPER_TEMPERATURE_COEFFICIENT_PER_K * (temperatureC - 20);
}
