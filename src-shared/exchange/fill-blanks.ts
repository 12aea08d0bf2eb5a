/** Values from outside the file (options of the check command) put where the file says nothing. */
import type { ColumnId } from '../columns/column-table.ts';
import { blankLine } from '../document/blank.ts';
import type { Assumption, Line, PieceChoice, Project } from '../document/project.ts';

/** What may fill blanks. Undefined: not given. SI. */
export interface BlankFill {
  readonly supplyV?: number;
  readonly supplyTolerancePct?: number;
  /** `12 AWG`: the line's and the home run's conductor. */
  readonly conductor?: string;
  /** Exact values override any named conductor, for line and home run alike. */
  readonly exactOhmPerKm?: number;
  readonly exactReactanceOhmPerKm?: number;
  readonly lineRatingA?: number;
  readonly breakerA?: number;
  readonly maxLengthM?: number;
  readonly homeRunM?: number;
  readonly jumperLengthsM?: readonly number[];
  readonly pieceChoice?: PieceChoice;
}

/** The word each value was given by, for the list of assumptions. */
export type FillSource = Readonly<Partial<Record<keyof BlankFill, string>>>;

class Filler {
  readonly assumptions: Assumption[] = [];
  constructor(private readonly from: FillSource) {}

  /** The value where `current` is blank, noted once; else `current`. */
  fill<T>(
    key: keyof BlankFill,
    current: T | null,
    value: T | undefined,
    what: string,
    unit: string | null,
    shown: string | number,
  ): T | null {
    if (current !== null || value === undefined) return current;
    this.note(key, what, unit, shown);
    return value;
  }

  note(key: keyof BlankFill, what: string, unit: string | null, shown: string | number): void {
    if (this.assumptions.some((a) => a.what === what)) return;
    this.assumptions.push({ what, value: shown, unit, from: this.from[key] ?? 'option' });
  }
}

function fillLine(line: Line, given: BlankFill, filler: Filler): Line {
  const { name } = line;
  const conductorKnown = line.conductor !== null || line.resistanceOhmPerKm !== null;
  const jumpers = given.jumperLengthsM;
  const takesJumpers = jumpers !== undefined && line.jumperLengthsM.length === 0;
  if (takesJumpers)
    filler.note('jumperLengthsM', `Jumpers of line ${name}`, 'm', jumpers.join(', '));
  const choice = takesJumpers ? given.pieceChoice : undefined;
  if (choice !== undefined)
    filler.note('pieceChoice', `Choice of pieces of line ${name}`, null, choice);
  const lengths = line.lengthLimits.length > 0 ? undefined : given.maxLengthM;
  return {
    ...line,
    conductor: conductorKnown
      ? line.conductor
      : filler.fill(
          'conductor',
          line.conductor,
          given.conductor,
          `Conductor of line ${name}`,
          null,
          given.conductor ?? '',
        ),
    ratingA: filler.fill(
      'lineRatingA',
      line.ratingA,
      given.lineRatingA,
      `Rating of line ${name}`,
      'A',
      given.lineRatingA ?? 0,
    ),
    maxLengthM: filler.fill(
      'maxLengthM',
      line.maxLengthM,
      lengths,
      `Listed length of line ${name}`,
      'm',
      lengths ?? 0,
    ),
    jumperLengthsM: takesJumpers ? jumpers : line.jumperLengthsM,
    pieceChoice: choice ?? line.pieceChoice,
  };
}

/** Lines to fill: those there are, or one of its own when none is described and an option needs one. */
function linesToFill(
  project: Project,
  given: BlankFill,
): { lines: readonly Line[]; defaultLine: string | null } {
  const { defaultLine } = project.settings;
  const needed =
    given.conductor !== undefined ||
    given.lineRatingA !== undefined ||
    given.maxLengthM !== undefined ||
    given.jumperLengthsM !== undefined;
  const unnamed = project.runs.some((run) => run.line === null) && defaultLine === null;
  if (!needed || !unnamed) return { lines: project.lines, defaultLine };
  if (project.lines.some((line) => line.name === 'as given'))
    return { lines: project.lines, defaultLine: 'as given' };
  return { lines: [...project.lines, blankLine('as given')], defaultLine: 'as given' };
}

/** A cell that could not be read is no blank: no option takes its place. */
function unreadByRun(project: Project): (run: string, column: ColumnId) => boolean {
  const unread = new Set<string>();
  for (const fixture of project.fixtures) {
    for (const column of fixture.unread) unread.add(`${column}\u0000${fixture.run ?? ''}`);
  }
  return (run, column) => unread.has(`${column}\u0000${run}`);
}

/** The project with blanks filled and every value so given listed in its assumptions. What the file says wins. */
export function fillBlanks(project: Project, given: BlankFill, from: FillSource = {}): Project {
  const filler = new Filler(from);
  const { settings } = project;
  const { lines, defaultLine } = linesToFill(project, given);
  const unread = unreadByRun(project);
  const runs = project.runs.map((run) => ({
    ...run,
    supplyV: filler.fill(
      'supplyV',
      run.supplyV,
      unread(run.name, 'supply') ? undefined : given.supplyV,
      'Supply voltage',
      'V',
      given.supplyV ?? 0,
    ),
    homeRunM: filler.fill(
      'homeRunM',
      run.homeRunM,
      unread(run.name, 'homeRun') ? undefined : given.homeRunM,
      'Home run, each run',
      'm',
      given.homeRunM ?? 0,
    ),
  }));
  const unreadBreaker = (id: string) =>
    project.runs.some((run) => run.circuitId === id && unread(run.name, 'breaker'));
  const circuits = project.circuits.map((circuit) => ({
    ...circuit,
    breakerA: filler.fill(
      'breakerA',
      circuit.breakerA,
      unreadBreaker(circuit.id) ? undefined : given.breakerA,
      'Breaker',
      'A',
      given.breakerA ?? 0,
    ),
  }));
  const filledLines = lines.map((line) => fillLine(line, given, filler));
  if (given.exactOhmPerKm !== undefined) {
    filler.note(
      'exactOhmPerKm',
      'Hot resistance per conductor, lines and home runs',
      'ohm/km',
      given.exactOhmPerKm,
    );
  }
  if (given.exactReactanceOhmPerKm !== undefined) {
    filler.note(
      'exactReactanceOhmPerKm',
      'Reactance per conductor, lines and home runs',
      'ohm/km',
      given.exactReactanceOhmPerKm,
    );
  }
  const filledSettings = {
    ...settings,
    defaultLine,
    supplyTolerancePct: filler.fill(
      'supplyTolerancePct',
      settings.supplyTolerancePct,
      given.supplyTolerancePct,
      'Supply tolerance, both ways',
      '%',
      given.supplyTolerancePct ?? 0,
    ),
    homeRunConductor: filler.fill(
      'conductor',
      settings.homeRunConductor,
      given.conductor,
      'Conductor of the home runs',
      null,
      given.conductor ?? '',
    ),
    exactOhmPerKm: given.exactOhmPerKm ?? settings.exactOhmPerKm,
    exactReactanceOhmPerKm: given.exactReactanceOhmPerKm ?? settings.exactReactanceOhmPerKm,
  };
  return {
    ...project,
    settings: filledSettings,
    runs,
    circuits,
    lines: filledLines,
    assumptions: [...project.assumptions, ...filler.assumptions],
  };
}
