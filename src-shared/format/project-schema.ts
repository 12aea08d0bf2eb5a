/** The form of a whole project, as zod checks it. Types of `document/` stay the truth: see the last line. */
import { z } from 'zod';
import type { Project } from '../document/project.ts';

const text = z.string();
const textOrNull = z.string().nullable();
/** zod 4 takes no NaN and no infinity for a number. */
const number = z.number();
const numberOrNull = z.number().nullable();
const truthOrNull = z.boolean().nullable();
const scalar = z.union([z.string(), z.number(), z.boolean()]);
const scalarOrNull = z.union([z.string(), z.number(), z.boolean(), z.null()]);
const maybeText = z.string().exactOptional();
const maybeNumber = z.number().exactOptional();

const settings = z.strictObject({
  profile: z.enum(['north-america', 'iec']),
  supplyTolerancePct: numberOrNull,
  branchDropPct: numberOrNull,
  branchDropBinding: truthOrNull,
  continuousFactor: numberOrNull,
  defaultLine: textOrNull,
  homeRunConductor: textOrNull,
  exactOhmPerKm: numberOrNull,
  exactReactanceOhmPerKm: numberOrNull,
  displayUnit: z.enum(['ft', 'm']),
});

const profileChange = z.strictObject({
  setting: text,
  value: scalar,
  who: text,
  when: text,
  why: text,
});

const fixtureType = z.strictObject({
  name: text,
  description: textOrNull,
  loadW: numberOrNull,
  powerFactor: numberOrNull,
  printedMinV: numberOrNull,
  printedMaxV: numberOrNull,
  absoluteMinV: numberOrNull,
  absoluteMaxV: numberOrNull,
  modes: z.array(z.strictObject({ name: text, footprint: number })),
  unitLoad: numberOrNull,
  leakageMa: numberOrNull,
  breakerMaxima: z.array(z.strictObject({ breakerA: number, fixtures: number })),
});

const line = z.strictObject({
  name: text,
  conductor: textOrNull,
  resistanceOhmPerKm: numberOrNull,
  reactanceOhmPerKm: numberOrNull,
  ratingA: numberOrNull,
  maxUpstreamBreakerA: numberOrNull,
  lengthLimits: z.array(z.strictObject({ supplyV: number, maxLengthM: number })),
  maxLengthM: numberOrNull,
  jumperLengthsM: z.array(number),
  leadInLengthsM: z.array(number),
  leadInCuttable: z.boolean(),
  pieceChoice: z.enum(['fewest-joints', 'least-excess']),
  conductorsPerFixture: number,
  conductorsPerHeadBox: number,
  listedPowerAndData: truthOrNull,
});

const supply = z.strictObject({
  name: text,
  system: textOrNull,
  phases: z.union([z.literal(1), z.literal(3)]).nullable(),
  lineToLineV: numberOrNull,
  lineToNeutralV: numberOrNull,
});

const circuit = z.strictObject({
  id: text,
  panel: textOrNull,
  name: textOrNull,
  breakerA: numberOrNull,
  protection: textOrNull,
});

const run = z.strictObject({
  name: text,
  supplyV: numberOrNull,
  circuitId: text,
  line: textOrNull,
  conductor: textOrNull,
  homeRunM: numberOrNull,
  leadInM: numberOrNull,
  homeRunConductor: textOrNull,
  dataOutput: textOrNull,
  locks: z.array(text),
});

const runStatement = z.strictObject({
  supplyV: maybeNumber,
  panel: maybeText,
  circuit: maybeText,
  breakerA: maybeNumber,
  protection: maybeText,
  line: maybeText,
  conductor: maybeText,
  homeRunM: maybeNumber,
  leadInM: maybeNumber,
});

const rowOrigin = z.strictObject({
  file: number,
  sheet: text,
  row: number,
  cells: z.array(scalarOrNull),
});

const fixture = z.strictObject({
  id: text,
  tag: textOrNull,
  type: textOrNull,
  run: textOrNull,
  place: numberOrNull,
  fedFrom: textOrNull,
  spanM: numberOrNull,
  installedM: numberOrNull,
  loadW: numberOrNull,
  powerFactor: numberOrNull,
  mode: textOrNull,
  footprint: numberOrNull,
  universe: numberOrNull,
  address: numberOrNull,
  unitLoad: numberOrNull,
  leakageMa: numberOrNull,
  shareSet: textOrNull,
  location: textOrNull,
  reach: textOrNull,
  area: textOrNull,
  description: textOrNull,
  remarks: textOrNull,
  differing: runStatement.nullable(),
  unread: z.array(text),
  locks: z.array(text),
  origin: rowOrigin.nullable(),
  alsoFrom: z.array(rowOrigin),
});

const assumption = z.strictObject({ what: text, value: scalar, unit: textOrNull, from: text });

const sheetRead = z.strictObject({
  file: number,
  sheet: text,
  headerRow: number,
  columnAt: z.array(numberOrNull),
  universeBase: z.union([z.literal(0), z.literal(1)]),
  rowsRead: number,
  rowsSkipped: z.array(z.strictObject({ row: number, reason: text })),
});

const questionId = z.enum(['hidden-rows', 'universe-base', 'tag-match', 'sheets']);

const importQuestion = z.strictObject({
  id: questionId,
  file: number,
  text,
  choices: z.array(z.strictObject({ value: text, title: text })),
  chosen: text,
  answered: z.boolean(),
});

const importAnswers = z.strictObject({
  sheets: z.array(z.strictObject({ file: number, sheet: text })).nullable(),
  headerRows: z.array(z.strictObject({ file: number, sheet: text, row: number })),
  columns: z.array(z.strictObject({ header: text, columnId: textOrNull })),
  questions: z.array(z.strictObject({ id: questionId, file: number, value: text })),
  cells: z.array(z.strictObject({ cell: text, raw: text, text: textOrNull })),
  accepted: z.array(z.strictObject({ cell: text, column: textOrNull, raw: text })),
});

const source = z.strictObject({
  files: z.array(z.strictObject({ fileName: text })),
  sheets: z.array(sheetRead),
  columns: z.array(z.strictObject({ header: text, columnId: textOrNull, unit: textOrNull })),
  readings: z.array(
    z.strictObject({
      cell: text,
      raw: text,
      column: textOrNull,
      value: scalarOrNull,
      confidence: z.enum(['sure', 'likely', 'guess', 'refused']),
      note: text,
      offer: maybeText,
    }),
  ),
  questions: z.array(importQuestion),
  answers: importAnswers,
});

/**
 * Every field of every record, no other: a project of the present version. Values are checked for
 * their kind only; what a schedule may say stays free, since absurd numbers are findings, not faults.
 */
export const projectSchema = z.strictObject({
  name: text,
  revision: textOrNull,
  settings,
  profileChanges: z.array(profileChange),
  types: z.array(fixtureType),
  lines: z.array(line),
  supplies: z.array(supply),
  circuits: z.array(circuit),
  runs: z.array(run),
  fixtures: z.array(fixture),
  assumptions: z.array(assumption),
  source: source.nullable(),
}) satisfies z.ZodType<Project>;
