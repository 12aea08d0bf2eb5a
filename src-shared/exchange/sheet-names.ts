/** Names and headers of the sheets that carry what the schedule does not: written by the export, known to the import. */

/** Names of the sheets of a marked-up schedule. */
export const sheetNames = {
  schedule: 'Schedule',
  /** One row a fixture, where the engineer's own sheet has rows that stand for several. */
  markedUpFixtures: 'Marked-up fixtures',
  types: 'Types',
  supplies: 'Supplies',
  lines: 'Lines',
  project: 'Project',
  findings: 'Findings',
  runs: 'Runs',
  circuits: 'Circuits',
  patch: 'Patch',
  takeoff: 'Takeoff',
  assumptions: 'Assumptions and cautions',
} as const;

const besideWord = ', Runledger';
const longestSheetName = 31;

/**
 * Name of a sheet of ours in a workbook that has a foreign sheet of that name: `Findings, Runledger`,
 * the name cut where both do not fit 31 characters. `nth` from 2 on is a number behind it.
 */
export function nameBeside(name: string, nth = 1): string {
  const ending = nth === 1 ? besideWord : `${besideWord} ${nth}`;
  return `${name.slice(0, longestSheetName - ending.length)}${ending}`;
}

/** Which sheet of ours a name stands for, `Findings, Runledger` too; null: none. Case does not count. */
export function ownSheetOf(name: string): string | null {
  const wanted = name.trim().toLowerCase();
  for (const own of Object.values(sheetNames)) {
    if (own.toLowerCase() === wanted) return own;
    const numbered = /, runledger(?: (\d+))?$/u.exec(wanted);
    const nth = numbered?.[1] === undefined ? 1 : Number(numbered[1]);
    if (numbered !== null && nameBeside(own, nth).toLowerCase() === wanted) return own;
  }
  return null;
}

/** Headers of the types sheet; `Max per 20 A` columns follow, one for each breaker rating. */
export const typesHeaders = {
  name: 'Type',
  description: 'Description',
  load: 'W max',
  powerFactor: 'pf',
  printed: 'Printed window',
  absolute: 'Absolute window',
  modes: 'Modes',
  unitLoad: 'Unit load',
  leakage: 'Leakage mA',
} as const;

/** Header of a type's greatest number on one breaker. */
export function breakerMaximumHeader(breakerA: number): string {
  return `Max per ${breakerA} A`;
}

export const suppliesHeaders = {
  name: 'Panel',
  system: 'System',
  phases: 'Phases',
  lineToLine: 'Volts L-L',
  lineToNeutral: 'Volts L-N',
} as const;

/** Headers of the lines sheet; resistance and reactance take their unit behind them. */
export const linesHeaders = {
  name: 'Line',
  conductor: 'Conductor',
  resistance: (unit: 'ohm/kft' | 'ohm/km') => `Resistance ${unit} hot`,
  reactance: (unit: 'ohm/kft' | 'ohm/km') => `Reactance ${unit}`,
  rating: 'Rating A',
  upstreamBreaker: 'Upstream breaker max A',
  maxLength: 'Max length (by supply)',
  jumpers: 'Jumpers',
  leadIns: 'Lead-ins',
  leadInCut: 'Lead-in cut at box',
  pieces: 'Pieces',
  conductorsPerFixture: 'Conductors per fixture',
  conductorsPerHeadBox: 'Conductors per head box',
  listed: 'Listed for power and data',
} as const;

/** Keys in column A of the project sheet; the value stands in column B. */
export const projectKeys = {
  name: 'Project',
  revision: 'Revision',
  profile: 'Profile',
  supplyTolerance: 'Supply tolerance',
  branchDrop: 'Branch drop limit',
  branchDropBinding: 'Branch drop binding',
  continuousFactor: 'Continuous factor',
  defaultLine: 'Line',
  homeRunConductor: 'Home run conductor',
  exactResistance: 'Exact resistance per conductor',
  exactReactance: 'Exact reactance per conductor',
  displayUnit: 'Display unit',
} as const;
export type ProjectKey = keyof typeof projectKeys;

/** Value of the project's `Line` that says there is no line of the project, though only one is described. */
export const NO_LINE = 'none';
