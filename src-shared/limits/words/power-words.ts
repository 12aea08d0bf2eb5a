/** Sentences of the electrical limits: what, number, limit, by how much, where, why. */
import type { LengthUnit } from '../../units/length.ts';
import type { Judgement, LevelValues } from '../outcome.ts';
import {
  amps,
  atSupply,
  counted,
  length,
  listed,
  percent,
  ratedAmps,
  ratedVolts,
  volts,
} from './shared-words.ts';

function closeOrOver(judged: Judgement, over: string): string {
  return judged.broken ? over : 'It holds, but is close';
}

export function sayLineRating(o: {
  run: string;
  judged: Judgement;
  values: LevelValues;
  ratingA: number;
  line: string;
  tolerancePct: number;
  loads: string;
}): string {
  const { judged, values } = o;
  const low =
    values.low === null || judged.level === 'low'
      ? ''
      : ` (${amps(values.low)} ${atSupply('low', o.tolerancePct)})`;
  return `${judged.broken ? 'Line over rating' : 'Line near its rating'}, run ${o.run}. ${amps(judged.value)} ${atSupply(judged.level, o.tolerancePct)}${low}; line ${o.line} is rated ${ratedAmps(o.ratingA)}. ${closeOrOver(judged, `Over by ${amps(judged.value - o.ratingA)} at the head of the run`)}. ${o.loads}.`;
}

export function sayCircuitLoad(o: {
  where: string;
  judged: Judgement;
  allowedA: number;
  breakerA: number;
  factor: number;
  runs: readonly string[];
  lowA: number | null;
  tolerancePct: number;
  fixedA: number | null;
}): string {
  const { judged } = o;
  const low =
    o.lowA === null || judged.level === 'low'
      ? ''
      : ` (${amps(o.lowA)} ${atSupply('low', o.tolerancePct)})`;
  const fixed =
    o.fixedA !== null && judged.broken && o.fixedA <= o.allowedA
      ? ` With fixed amps at nominal voltage it reads ${amps(o.fixedA)} and looks fine; amps rise as volts fall.`
      : '';
  return `${judged.broken ? 'Circuit over its continuous load' : 'Circuit near its continuous load'}, ${o.where}. ${amps(judged.value)} ${atSupply(judged.level, o.tolerancePct)}${low} from ${o.runs.length === 1 ? 'run' : 'runs'} ${listed(o.runs)}; a ${ratedAmps(o.breakerA)} breaker carries ${amps(o.allowedA)} of continuous load (factor ${o.factor}). ${closeOrOver(judged, `Over by ${amps(judged.value - o.allowedA)}`)}.${fixed}`;
}

export function sayBranchDrop(o: {
  run: string;
  judged: Judgement;
  allowedPct: number;
  tag: string;
  places: number;
  homeRunPct: number;
  tolerancePct: number;
  advice: boolean;
  /** Who says whether the limit binds. */
  saidBy: 'profile' | 'project';
}): string {
  const { judged } = o;
  const head = judged.broken ? 'Voltage drop over the limit' : 'Voltage drop near the limit';
  const rule = o.advice ? `advice in this ${o.saidBy}, not a rule` : `binding in this ${o.saidBy}`;
  const places = judged.broken ? ` ${counted(o.places, 'fixture')} over it.` : '';
  return `${head}, run ${o.run}. ${percent(judged.value)} at ${o.tag} ${atSupply(judged.level, o.tolerancePct)}, from the panel; limit ${percent(o.allowedPct)} (${rule}). ${closeOrOver(judged, `Over by ${percent(judged.value - o.allowedPct)}`)}.${places} The home run is ${percent(o.homeRunPct)} of it.`;
}

export function sayNoOperatingPoint(o: {
  run: string;
  lowOnly: boolean;
  tolerancePct: number;
  supplyV: number;
  fixtures: number;
}): string {
  const at = o.lowOnly ? atSupply('low', o.tolerancePct) : 'at nominal supply';
  return `No operating point, run ${o.run}. ${atSupplyStart(at)} of ${ratedVolts(o.supplyV)} the cable cannot carry the watts of its ${counted(o.fixtures, 'fixture')}: volts would collapse. No number is shown for it.`;
}

function atSupplyStart(at: string): string {
  return at.charAt(0).toUpperCase() + at.slice(1);
}

export function sayUnderVolts(o: {
  run: string;
  tag: string;
  voltsV: number;
  minV: number;
  level: 'low' | 'nominal' | 'high';
  tolerancePct: number;
  count: number;
  broken: boolean;
  assumed: boolean;
  type: string;
}): string {
  const head = o.broken ? 'Fixture below its minimum volts' : 'Fixture near its minimum volts';
  const by = o.broken
    ? `Under by ${volts(o.minV - o.voltsV)}; ${counted(o.count, 'fixture')} below it`
    : 'It holds, but is close';
  return `${head}, run ${o.run}. ${volts(o.voltsV)} at ${o.tag} ${atSupply(o.level, o.tolerancePct)}; type ${o.type} needs at least ${ratedVolts(o.minV)}${o.assumed ? ' (assumed: printed window less 10 %)' : ''}. ${by}.`;
}

export function sayWrongVoltage(o: {
  run: string;
  type: string;
  supplyV: number;
  levelV: number;
  level: 'low' | 'nominal' | 'high';
  tolerancePct: number;
  minV: number | null;
  maxV: number | null;
  count: number;
  above: boolean;
  assumed: boolean;
}): string {
  const window = `${o.minV === null ? '?' : ratedVolts(o.minV)} to ${o.maxV === null ? '?' : ratedVolts(o.maxV)}`;
  const edge = o.above ? (o.maxV ?? 0) : (o.minV ?? 0);
  const by = Math.abs(o.levelV - edge);
  return `Wrong voltage for type ${o.type}, run ${o.run}. ${ratedVolts(o.supplyV)} supply${o.level === 'nominal' ? '' : `, ${volts(o.levelV)} ${atSupply(o.level, o.tolerancePct)}`}; its input window is ${window}${o.assumed ? ' (assumed: printed window ±10 %)' : ''}. ${o.above ? 'Above' : 'Below'} it by ${volts(by)}, loaded or not. ${counted(o.count, 'fixture')}.`;
}

export function sayRunLength(o: {
  run: string;
  installedM: number;
  drawnM: number;
  allowedM: number;
  supplyV: number;
  unit: LengthUnit;
  broken: boolean;
  line: string;
}): string {
  const head = o.broken ? 'Run longer than listed' : 'Run near its listed length';
  const by = o.broken
    ? `Over by ${length(o.installedM - o.allowedM, o.unit)}`
    : 'It holds, but is close';
  const drawn =
    o.broken && o.drawnM <= o.allowedM
      ? ` Drawn it is ${length(o.drawnM, o.unit)} and looks short enough; stock pieces are longer than the spans.`
      : '';
  return `${head}, run ${o.run}. ${length(o.installedM, o.unit)} installed from head box to last fixture; line ${o.line} is listed for ${length(o.allowedM, o.unit)} at ${ratedVolts(o.supplyV)}. ${by}.${drawn}`;
}

export function sayBreakerOverLine(o: {
  where: string;
  breakerA: number;
  maxA: number;
  runs: readonly string[];
  /** "line H12" or "14 AWG copper". */
  of: string;
}): string {
  return `Breaker too large, ${o.where}. ${ratedAmps(o.breakerA)} breaker; ${o.of} may stand behind at most ${ratedAmps(o.maxA)}. ${o.runs.length === 1 ? 'Run' : 'Runs'} ${listed(o.runs)}.`;
}

export function sayMixedVoltage(o: {
  where: string;
  found: readonly string[];
  why: string;
}): string {
  return `Mixed voltages, ${o.where}. ${listed(o.found)}: ${o.why}.`;
}

export function sayLeakage(o: {
  where: string;
  leakageMa: number;
  allowedMa: number;
  device: string;
  count: number;
  broken: boolean;
  why: string;
}): string {
  const head = o.broken ? 'Leakage too near the trip' : 'Leakage close to its allowance';
  return `${head}, ${o.where}. ${Math.round(o.leakageMa * 100) / 100} mA from ${counted(o.count, 'fixture')} on one ${o.device}; allowed ${Math.round(o.allowedMa * 100) / 100} mA (${o.why}).${o.broken ? ' The engineer of record decides which device is required.' : ''}`;
}
