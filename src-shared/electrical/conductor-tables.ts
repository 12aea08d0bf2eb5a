/**
 * Printed resistances of copper conductors. The standards themselves were not opened: the numbers
 * were seen in public copies, and the tests hold the first table against first principles.
 */

/** ohm per 1000 ft to ohm per km: 1 kft = 0.3048 km exactly. */
export const KM_PER_KFT = 0.3048;

/** Temperature the AWG resistances are printed for, °C. */
export const AWG_TABLE_TEMPERATURE_C = 75;

/**
 * NEC Chapter 9 Table 8, stranded uncoated copper, DC resistance at 75 °C in ohm per 1000 ft, by
 * gauge (18 to 4/0).
 */
export const AWG_STRANDED_OHM_PER_KFT: ReadonlyMap<string, number> = new Map([
  ['18', 7.95],
  ['16', 4.99],
  ['14', 3.14],
  ['12', 1.98],
  ['10', 1.24],
  ['8', 0.778],
  ['6', 0.491],
  ['4', 0.308],
  ['3', 0.245],
  ['2', 0.194],
  ['1', 0.154],
  ['1/0', 0.122],
  ['2/0', 0.0967],
  ['3/0', 0.0766],
  ['4/0', 0.0608],
]);

/** Hot conductor temperature assumed for mm² sizes, °C (the limit of common PVC insulation). */
export const MM2_CONDUCTOR_TEMPERATURE_C = 70;

/**
 * IEC 60228 class 5 (flexible) plain copper, greatest resistance at 20 °C in ohm/km, by nominal
 * area in mm².
 */
export const MM2_CLASS5_OHM_PER_KM_20C: ReadonlyMap<number, number> = new Map([
  [0.5, 39.0],
  [0.75, 26.0],
  [1, 19.5],
  [1.5, 13.3],
  [2.5, 7.98],
  [4, 4.95],
  [6, 3.3],
  [10, 1.91],
  [16, 1.21],
  [25, 0.78],
  [35, 0.554],
  [50, 0.386],
  [70, 0.272],
  [95, 0.206],
  [120, 0.161],
]);
