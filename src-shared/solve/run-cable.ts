/** What a run is built of: conductors, spans, stock pieces, installed lengths. */
import type { Line, Project, Run } from '../document/project.ts';
import { conductorResistanceOhmPerKm } from '../electrical/conductor.ts';
import { createStockChooser, type StockChooser } from '../takeoff/stock-pieces.ts';
import { parseConductorSize } from '../units/conductor-size.ts';
import type { FixtureFacts } from './fixture-facts.ts';

export interface RunCable {
  readonly conductors: readonly string[];
  readonly lineOhmPerKm: number | null;
  readonly lineReactanceOhmPerKm: number;
  readonly homeRunOhmPerKm: number | null;
  readonly homeRunReactanceOhmPerKm: number;
  readonly spanM: (number | null)[];
  readonly piecesM: (readonly number[] | null)[];
  readonly installedM: (number | null)[];
}

/** Hot resistance of a named conductor per conductor; null when the name or the size is not known. */
export function namedConductorOhmPerKm(name: string | null): number | null {
  if (name === null) return null;
  const size = parseConductorSize(name);
  return size.ok ? conductorResistanceOhmPerKm(size) : null;
}

const choosers = new WeakMap<Line, StockChooser>();

/** The stock chooser of a line's jumpers; made once a line record. Null: no stock lengths, span as drawn. */
export function jumperChooser(line: Line | null): StockChooser | null {
  if (line === null || line.jumperLengthsM.length === 0) return null;
  let chooser = choosers.get(line);
  if (chooser === undefined) {
    chooser = createStockChooser(line.jumperLengthsM, line.pieceChoice);
    choosers.set(line, chooser);
  }
  return chooser;
}

function lineResistance(
  project: Project,
  run: Run,
  line: Line | null,
  facts: readonly FixtureFacts[],
): number | null {
  const { exactOhmPerKm } = project.settings;
  if (exactOhmPerKm !== null) return exactOhmPerKm;
  if (run.conductor !== null) return namedConductorOhmPerKm(run.conductor);
  // A conductor the file states but nobody understands is not the line's.
  if (facts.some((f) => f.isUnread('conductor'))) return null;
  return line?.resistanceOhmPerKm ?? namedConductorOhmPerKm(line?.conductor ?? null);
}

function homeRunResistance(project: Project, run: Run, lineOhmPerKm: number | null): number | null {
  const { exactOhmPerKm, homeRunConductor } = project.settings;
  if (exactOhmPerKm !== null) return exactOhmPerKm;
  const named = run.homeRunConductor ?? homeRunConductor;
  return named === null ? lineOhmPerKm : namedConductorOhmPerKm(named);
}

const noPieces: readonly number[] = [];

/** The lead-in is cut to the drawn length at the head box; where it may not be, the shortest stock lead-in that reaches. */
function leadInLength(line: Line | null, needM: number): { lengthM: number; pieces: number[] } {
  const stock = line === null ? [] : [...line.leadInLengthsM].sort((a, b) => a - b);
  const piece = stock.find((lengthM) => lengthM >= needM - 1e-6);
  if (piece === undefined)
    return { lengthM: needM, pieces: stock.length === 0 && needM > 0 ? [needM] : [] };
  return { lengthM: line?.leadInCuttable === false ? piece : needM, pieces: [piece] };
}

/**
 * Spans, pieces and installed lengths of a run, in order of place. Place 1 is the lead-in: from the
 * run, else its own span. `piecesM` is null where a span is not known and empty where no stock serves.
 */
export function runCable(
  project: Project,
  run: Run,
  line: Line | null,
  facts: readonly FixtureFacts[],
): RunCable {
  const lineOhmPerKm = lineResistance(project, run, line, facts);
  const exactX = project.settings.exactReactanceOhmPerKm;
  const reactance = exactX ?? line?.reactanceOhmPerKm ?? 0;
  const named = run.homeRunConductor ?? project.settings.homeRunConductor;
  const chooser = jumperChooser(line);
  // Of the right size from the start: arrays that grow keep room for more.
  const spanM = new Array<number | null>(facts.length);
  const piecesM = new Array<readonly number[] | null>(facts.length);
  const installedM = new Array<number | null>(facts.length);
  for (let index = 0; index < facts.length; index += 1) {
    const of = facts[index] as FixtureFacts;
    const { fixture } = of;
    const span = index === 0 ? (run.leadInM ?? fixture.spanM) : fixture.spanM;
    spanM[index] = span;
    if (span === null) {
      piecesM[index] = null;
      installedM[index] = fixture.installedM;
    } else if (index === 0) {
      const leadIn = leadInLength(line, span);
      piecesM[index] = leadIn.pieces;
      installedM[index] = fixture.installedM ?? leadIn.lengthM;
    } else if (chooser === null) {
      piecesM[index] = span > 0 ? [span] : noPieces;
      installedM[index] = fixture.installedM ?? span;
    } else {
      const choice = chooser(span);
      piecesM[index] = choice?.pieces ?? noPieces;
      installedM[index] = fixture.installedM ?? choice?.lengthM ?? span;
    }
    if (fixture.installedM === null && of.isUnread('installed')) installedM[index] = null;
  }
  const own = run.conductor ?? line?.conductor ?? null;
  return {
    conductors: [...new Set([own, named].filter((name) => name !== null))],
    lineOhmPerKm,
    lineReactanceOhmPerKm: reactance,
    homeRunOhmPerKm: homeRunResistance(project, run, lineOhmPerKm),
    homeRunReactanceOhmPerKm: exactX ?? (named === null ? reactance : 0),
    spanM,
    piecesM,
    installedM,
  };
}
