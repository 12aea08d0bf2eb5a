/** Empty records: every field present, `null` where nothing is known. Fresh objects at each call. */
import type { Circuit, Fixture, FixtureType, Line, Project, Run, Supply } from './project.ts';

export function blankFixture(id: string): Fixture {
  return {
    id,
    tag: null,
    type: null,
    run: null,
    place: null,
    fedFrom: null,
    spanM: null,
    installedM: null,
    loadW: null,
    powerFactor: null,
    mode: null,
    footprint: null,
    universe: null,
    address: null,
    unitLoad: null,
    leakageMa: null,
    shareSet: null,
    location: null,
    reach: null,
    area: null,
    description: null,
    remarks: null,
    differing: null,
    unread: [],
    locks: [],
    origin: null,
    alsoFrom: [],
  };
}

export function blankRun(name: string, circuitId: string): Run {
  return {
    name,
    supplyV: null,
    circuitId,
    line: null,
    conductor: null,
    homeRunM: null,
    leadInM: null,
    homeRunConductor: null,
    dataOutput: null,
    locks: [],
  };
}

export function blankCircuit(id: string): Circuit {
  return { id, panel: null, name: null, breakerA: null, protection: null };
}

export function blankSupply(name: string): Supply {
  return { name, system: null, phases: null, lineToLineV: null, lineToNeutralV: null };
}

export function blankType(name: string): FixtureType {
  return {
    name,
    description: null,
    loadW: null,
    powerFactor: null,
    printedMinV: null,
    printedMaxV: null,
    absoluteMinV: null,
    absoluteMaxV: null,
    modes: [],
    unitLoad: null,
    leakageMa: null,
    breakerMaxima: [],
  };
}

/** The two termination counts are common practice, no source; both can be edited on the line. */
export function blankLine(name: string): Line {
  return {
    name,
    conductor: null,
    resistanceOhmPerKm: null,
    reactanceOhmPerKm: null,
    ratingA: null,
    maxUpstreamBreakerA: null,
    lengthLimits: [],
    maxLengthM: null,
    jumperLengthsM: [],
    leadInLengthsM: [],
    leadInCuttable: true,
    pieceChoice: 'fewest-joints',
    conductorsPerFixture: 8,
    conductorsPerHeadBox: 6,
    listedPowerAndData: null,
  };
}

export function blankProject(name: string): Project {
  return {
    name,
    revision: null,
    settings: {
      profile: 'north-america',
      supplyTolerancePct: null,
      branchDropPct: null,
      branchDropBinding: null,
      continuousFactor: null,
      defaultLine: null,
      homeRunConductor: null,
      exactOhmPerKm: null,
      exactReactanceOhmPerKm: null,
      displayUnit: 'ft',
    },
    profileChanges: [],
    types: [],
    lines: [],
    supplies: [],
    circuits: [],
    runs: [],
    fixtures: [],
    assumptions: [],
    source: null,
  };
}
