/** Types, supplies, lines and settings as tables that the import reads back to equal records. */
import type { FixtureType, Line, Project, Supply } from '../document/project.ts';
import { METRES_PER_FOOT } from '../units/length.ts';
import { unitNamed } from '../units/quantity.ts';
import {
  breakerMaximumHeader,
  linesHeaders,
  NO_LINE,
  projectKeys,
  sheetNames,
  suppliesHeaders,
  typesHeaders,
} from './sheet-names.ts';
import { writeLengthLimits, writeLengths } from './tables/length-words.ts';
import { writeModes } from './tables/mode-words.ts';
import { writeWindow } from './tables/window-words.ts';

export type TableCell = string | number | null;

export interface ProjectSheet {
  readonly name: string;
  readonly rows: TableCell[][];
}

/** All values in an order that keeps that of each list; where two lists disagree, the first holds. */
function orderThatSuits(lists: readonly (readonly number[])[]): number[] {
  const left = new Set(lists.flat());
  const order: number[] = [];
  while (left.size > 0) {
    const waits = (value: number) =>
      lists.some((list) =>
        list.slice(0, Math.max(0, list.indexOf(value))).some((v) => v !== value && left.has(v)),
      );
    const [next] = [...[...left].filter((value) => !waits(value)), ...left];
    if (next === undefined) break;
    left.delete(next);
    order.push(next);
  }
  return order;
}

function typesSheet(types: readonly FixtureType[]): ProjectSheet {
  const breakers = orderThatSuits(types.map((t) => t.breakerMaxima.map((m) => m.breakerA)));
  const header = [...Object.values(typesHeaders), ...breakers.map(breakerMaximumHeader)];
  const rows = types.map((type): TableCell[] => [
    type.name,
    type.description,
    type.loadW,
    type.powerFactor,
    writeWindow({ minV: type.printedMinV, maxV: type.printedMaxV }),
    writeWindow({ minV: type.absoluteMinV, maxV: type.absoluteMaxV }),
    type.modes.length === 0 ? null : writeModes(type.modes),
    type.unitLoad,
    type.leakageMa,
    ...breakers.map((a) => type.breakerMaxima.find((m) => m.breakerA === a)?.fixtures ?? null),
  ]);
  return { name: sheetNames.types, rows: [header, ...rows] };
}

function suppliesSheet(supplies: readonly Supply[]): ProjectSheet {
  const rows = supplies.map((s): TableCell[] => [
    s.name,
    s.system,
    s.phases,
    s.lineToLineV,
    s.lineToNeutralV,
  ]);
  return { name: sheetNames.supplies, rows: [Object.values(suppliesHeaders), ...rows] };
}

type OhmUnit = 'ohm/kft' | 'ohm/km';

/** A number in the header's unit where it reads back exactly, else text in ohm/km. */
function ohmCell(ohmPerKm: number | null, unit: OhmUnit): TableCell {
  if (ohmPerKm === null || unit === 'ohm/km') return ohmPerKm;
  const perKft = unitNamed('ohm/kft');
  const written = ohmPerKm * METRES_PER_FOOT;
  for (const digits of [3, 6, 12, 15, 16, 17]) {
    const short = Number(written.toPrecision(digits));
    if (perKft?.toSi(short) === ohmPerKm) return short;
  }
  return `${ohmPerKm} ohm/km`;
}

const yesNo = (value: boolean | null): TableCell => (value === null ? null : value ? 'yes' : 'no');

function linesSheet(lines: readonly Line[], displayUnit: 'ft' | 'm'): ProjectSheet {
  const unit: OhmUnit = displayUnit === 'ft' ? 'ohm/kft' : 'ohm/km';
  const header = Object.values(linesHeaders).map((h) => (typeof h === 'string' ? h : h(unit)));
  const rows = lines.map((line): TableCell[] => [
    line.name,
    line.conductor,
    ohmCell(line.resistanceOhmPerKm, unit),
    ohmCell(line.reactanceOhmPerKm, unit),
    line.ratingA,
    line.maxUpstreamBreakerA,
    writeLengthLimits(line.lengthLimits, line.maxLengthM, displayUnit),
    writeLengths(line.jumperLengthsM, displayUnit),
    writeLengths(line.leadInLengthsM, displayUnit),
    yesNo(line.leadInCuttable),
    line.pieceChoice === 'fewest-joints' ? 'fewest joints' : 'least excess',
    line.conductorsPerFixture,
    line.conductorsPerHeadBox,
    yesNo(line.listedPowerAndData),
  ]);
  return { name: sheetNames.lines, rows: [header, ...rows] };
}

function projectSheet(project: Project): ProjectSheet {
  const { settings, lines } = project;
  const percent = (value: number | null): TableCell => (value === null ? null : `${value} %`);
  const ohm = (value: number | null): TableCell => (value === null ? null : `${value} ohm/km`);
  // A lone line would become the project's on reading, so its absence has to be said.
  const noLine = lines.length === 1 ? NO_LINE : null;
  const rows: TableCell[][] = [
    [projectKeys.name, project.name],
    [projectKeys.revision, project.revision],
    [projectKeys.profile, settings.profile],
    [projectKeys.supplyTolerance, percent(settings.supplyTolerancePct)],
    [projectKeys.branchDrop, percent(settings.branchDropPct)],
    [projectKeys.branchDropBinding, yesNo(settings.branchDropBinding)],
    [projectKeys.continuousFactor, settings.continuousFactor],
    [projectKeys.defaultLine, settings.defaultLine ?? noLine],
    [projectKeys.homeRunConductor, settings.homeRunConductor],
    [projectKeys.exactResistance, ohm(settings.exactOhmPerKm)],
    [projectKeys.exactReactance, ohm(settings.exactReactanceOhmPerKm)],
    [projectKeys.displayUnit, settings.displayUnit],
  ];
  return { name: sheetNames.project, rows };
}

/**
 * The sheets `Types`, `Supplies`, `Lines` and `Project` of a marked-up schedule. Lengths in the
 * project's display unit, in metres where only they read back to the same double.
 */
export function projectSheets(project: Project): ProjectSheet[] {
  return [
    typesSheet(project.types),
    suppliesSheet(project.supplies),
    linesSheet(project.lines, project.settings.displayUnit),
    projectSheet(project),
  ];
}
