/** All limits in force, in the order in which findings are listed within a severity. */
import type { Limit } from './limit.ts';
import { addressOverlap, addressWithoutUniverse } from './rules/address-overlap.limit.ts';
import { branch } from './rules/branch.limit.ts';
import { branchDrop } from './rules/branch-drop.limit.ts';
import { breakerOverLine } from './rules/breaker-over-line.limit.ts';
import { brokenChain } from './rules/broken-chain.limit.ts';
import { circuitLoad } from './rules/circuit-load.limit.ts';
import { differingValues } from './rules/differing-values.limit.ts';
import { duplicateTag } from './rules/duplicate-tag.limit.ts';
import { fixtureUnderVolts } from './rules/fixture-under-volts.limit.ts';
import { footprintUnknown } from './rules/footprint-unknown.limit.ts';
import { leakage } from './rules/leakage.limit.ts';
import { lineRating } from './rules/line-rating.limit.ts';
import { missingRun, missingValue } from './rules/missing-value.limit.ts';
import { mixedVoltage } from './rules/mixed-voltage.limit.ts';
import { noOperatingPoint } from './rules/no-operating-point.limit.ts';
import { noStockPieces } from './rules/no-stock-pieces.limit.ts';
import { past512 } from './rules/past-512.limit.ts';
import { runLength } from './rules/run-length.limit.ts';
import { twoUniverses } from './rules/two-universes.limit.ts';
import { unitLoads } from './rules/unit-loads.limit.ts';
import { unlikelyValue } from './rules/unlikely-value.limit.ts';
import { wrongVoltage } from './rules/wrong-voltage.limit.ts';

export const limits: readonly Limit[] = [
  wrongVoltage,
  mixedVoltage,
  noOperatingPoint,
  branch,
  lineRating,
  breakerOverLine,
  runLength,
  circuitLoad,
  branchDrop,
  fixtureUnderVolts,
  leakage,
  brokenChain,
  noStockPieces,
  twoUniverses,
  addressOverlap,
  addressWithoutUniverse,
  past512,
  footprintUnknown,
  unitLoads,
  duplicateTag,
  differingValues,
  unlikelyValue,
  missingValue,
  missingRun,
];
