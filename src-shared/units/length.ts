/**
 * Lengths in metres and in feet, exact by definition: 1 ft = 0.3048 m and 1 in = 0.0254 m
 * (international yard and pound agreement of 1959; NIST SP 811, Appendix B).
 */

/** Unit a project shows lengths in. Stored lengths are always metres. */
export type LengthUnit = 'ft' | 'm';

/** Exact metres per foot. */
export const METRES_PER_FOOT = 0.3048;

/** Exact metres per inch. */
export const METRES_PER_INCH = 0.0254;

/**
 * Feet → metres. A ratio of whole numbers, so that a whole number of feet becomes the double
 * nearest to its exact length.
 */
export function metresFromFeet(feet: number): number {
  return (feet * 3048) / 10000;
}

/** Metres → feet, not rounded. */
export function feetFromMetres(metres: number): number {
  return (metres * 10000) / 3048;
}

/** Inches → metres. */
export function metresFromInches(inches: number): number {
  return (inches * 254) / 10000;
}

/** Metres → inches, not rounded. */
export function inchesFromMetres(metres: number): number {
  return (metres * 10000) / 254;
}

/** A length in metres expressed in `unit`, not rounded; `null` stays `null`. */
export function lengthInUnit(lengthM: number | null, unit: LengthUnit): number | null {
  if (lengthM === null) return null;
  return unit === 'ft' ? feetFromMetres(lengthM) : lengthM;
}

/** A length given in `unit` as metres. */
export function metresFromUnit(length: number, unit: LengthUnit): number {
  return unit === 'ft' ? metresFromFeet(length) : length;
}
