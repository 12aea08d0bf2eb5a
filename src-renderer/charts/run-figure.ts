/** Where the parts of a run stand in its figure: along the cable as laid, panel at the left. */
import { type RunResult, worstDrop } from '../../src-shared/solve/run-result.ts';

export interface FigureFrame {
  readonly width: number;
  readonly left: number;
  readonly right: number;
}

export interface RunFigure {
  /** Positions are to scale by installed length; false: evenly spaced, a length is missing. */
  readonly toScale: boolean;
  readonly panelX: number;
  readonly boxX: number;
  readonly tapX: readonly number[];
}

/** Positions of panel, head box and taps; null for a run without fixtures. */
export function placeRun(run: RunResult, frame: FigureFrame): RunFigure | null {
  const count = run.facts.length;
  if (count === 0) return null;
  const known = run.homeRunKnown && run.installedM.every((lengthM) => lengthM !== null);
  const steps = run.installedM.map((lengthM) => (known ? (lengthM ?? 0) : 1));
  const homeRun = known ? run.homeRunM : 1.5;
  const total = homeRun + steps.reduce((sum, step) => sum + step, 0);
  const scale = total <= 0 ? 0 : (frame.width - frame.left - frame.right) / total;
  const boxX = frame.left + homeRun * scale;
  let x = boxX;
  const tapX = steps.map((step) => {
    x += step * scale;
    return x;
  });
  return { toScale: known, panelX: frame.left, boxX, tapX };
}

export interface VoltRange {
  readonly lowV: number;
  readonly highV: number;
}

/** Volts the profile spans: from the least seen or allowed to the highest supply, with some air. */
export function voltRange(run: RunResult, limitV: number | null): VoltRange | null {
  const { nominal, low, high } = run;
  if (nominal === null) return null;
  const least = [nominal, low].flatMap((level) => {
    const worst = level === null ? null : worstDrop(level);
    return level === null || worst === null ? [] : [level.voltsV[worst.index] ?? level.supplyV];
  });
  const lowV = Math.min(...least, limitV ?? Number.POSITIVE_INFINITY, nominal.supplyV);
  const highV = Math.max(nominal.supplyV, high?.supplyV ?? 0);
  const air = Math.max((highV - lowV) * 0.06, 0.2);
  return { lowV: lowV - air, highV: highV + air };
}

/** Round values inside a range: about four, at 1, 2 or 5 times a power of ten. */
export function roundTicks({ lowV, highV }: VoltRange): number[] {
  const rough = (highV - lowV) / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((n) => n * power).find((s) => s >= rough) ?? rough;
  const ticks: number[] = [];
  for (let n = Math.ceil(lowV / step); n * step <= highV; n += 1) ticks.push(n * step);
  return ticks;
}
