/**
 * The numbers in force: those of the profile, with what the project has changed. Bases are from
 * memory and printed as "verify in the adopted edition"; they stand with each limit.
 */
import type { ProfileId, Project } from './project.ts';

export interface ProfileNumbers {
  readonly id: ProfileId;
  /** How far the supply may be off nominal, both ways. NA 5 %, IEC 10 %. */
  readonly supplyTolerancePct: number;
  readonly branchDropPct: number;
  /** A drop over the limit is a breach (true) or a watch (false: advice only). */
  readonly branchDropBinding: boolean;
  /** Part of the breaker rating a continuous load may use. NA 0.8, IEC 1. */
  readonly continuousFactor: number;
  /** Class A ground-fault devices: trip band 4 to 6 mA (UL 943). */
  readonly classABreachMa: number;
  readonly classAWatchMa: number;
  /** Part of a residual current device's rating standing leakage may use (IEC 60364-5-53). */
  readonly residualShare: number;
  /** EIA-485 unit loads on one data output, the sender included. */
  readonly unitLoadsPerOutput: number;
  /** Above this part of the allowed a value that holds is a watch. */
  readonly watchShare: number;
  /** More stock pieces than this in one span are a watch; our own figure, no source. */
  readonly maxPiecesPerSpan: number;
}

const numbersOf: Readonly<Record<ProfileId, ProfileNumbers>> = {
  'north-america': {
    id: 'north-america',
    supplyTolerancePct: 5,
    branchDropPct: 3,
    branchDropBinding: false,
    continuousFactor: 0.8,
    classABreachMa: 4,
    classAWatchMa: 2,
    residualShare: 0.3,
    unitLoadsPerOutput: 32,
    watchShare: 0.9,
    maxPiecesPerSpan: 6,
  },
  iec: {
    id: 'iec',
    supplyTolerancePct: 10,
    branchDropPct: 3,
    branchDropBinding: true,
    continuousFactor: 1,
    classABreachMa: 4,
    classAWatchMa: 2,
    residualShare: 0.3,
    unitLoadsPerOutput: 32,
    watchShare: 0.9,
    maxPiecesPerSpan: 6,
  },
};

export const profileIds = Object.keys(numbersOf) as readonly ProfileId[];

/** The profile's own numbers, without a project's changes. */
export function profileDefaults(id: ProfileId): ProfileNumbers {
  return numbersOf[id];
}

/** The numbers in force in a project. */
export function profileNumbers(project: Pick<Project, 'settings'>): ProfileNumbers {
  const { settings } = project;
  const base = numbersOf[settings.profile];
  return {
    ...base,
    supplyTolerancePct: settings.supplyTolerancePct ?? base.supplyTolerancePct,
    branchDropPct: settings.branchDropPct ?? base.branchDropPct,
    branchDropBinding: settings.branchDropBinding ?? base.branchDropBinding,
    continuousFactor: settings.continuousFactor ?? base.continuousFactor,
  };
}
