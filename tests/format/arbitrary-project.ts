/** Random projects of every shape the document allows, references in order. */
import fc from 'fast-check';
import type {
  Circuit,
  Fixture,
  FixtureType,
  ImportAnswers,
  Line,
  Project,
  ProjectSettings,
  RowOrigin,
  Run,
  RunStatement,
  ScheduleSource,
  Supply,
} from '../../src-shared/document/project.ts';

/** Words that have tripped programs up, and any text at all, halves of characters among it. */
const text = fc.oneof(
  fc.constantFrom('__proto__', 'constructor', 'toString', '', '=1+1', '\ud800', '\u0000', '½ µΩ'),
  fc.string({ unit: 'binary', maxLength: 12 }),
);
// JSON has no −0; the program makes none.
const number = fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => value + 0 || 0);
const or = <T>(inner: fc.Arbitrary<T>) => fc.option(inner, { nil: null });
const truth = fc.boolean();
const scalar = fc.oneof(text, number, truth);
const list = <T>(inner: fc.Arbitrary<T>) => fc.array(inner, { maxLength: 3 });

const settings: fc.Arbitrary<ProjectSettings> = fc.record({
  profile: fc.constantFrom('north-america', 'iec'),
  supplyTolerancePct: or(number),
  branchDropPct: or(number),
  branchDropBinding: or(truth),
  continuousFactor: or(number),
  defaultLine: or(text),
  homeRunConductor: or(text),
  exactOhmPerKm: or(number),
  exactReactanceOhmPerKm: or(number),
  displayUnit: fc.constantFrom('ft', 'm'),
});

const type = (name: string): fc.Arbitrary<FixtureType> =>
  fc.record({
    name: fc.constant(name),
    description: or(text),
    loadW: or(number),
    powerFactor: or(number),
    printedMinV: or(number),
    printedMaxV: or(number),
    absoluteMinV: or(number),
    absoluteMaxV: or(number),
    modes: list(fc.record({ name: text, footprint: number })),
    unitLoad: or(number),
    leakageMa: or(number),
    breakerMaxima: list(fc.record({ breakerA: number, fixtures: number })),
  });

const line = (name: string): fc.Arbitrary<Line> =>
  fc.record({
    name: fc.constant(name),
    conductor: or(text),
    resistanceOhmPerKm: or(number),
    reactanceOhmPerKm: or(number),
    ratingA: or(number),
    maxUpstreamBreakerA: or(number),
    lengthLimits: list(fc.record({ supplyV: number, maxLengthM: number })),
    maxLengthM: or(number),
    jumperLengthsM: list(number),
    leadInLengthsM: list(number),
    leadInCuttable: truth,
    pieceChoice: fc.constantFrom('fewest-joints', 'least-excess'),
    conductorsPerFixture: number,
    conductorsPerHeadBox: number,
    listedPowerAndData: or(truth),
  });

const supply = (name: string): fc.Arbitrary<Supply> =>
  fc.record({
    name: fc.constant(name),
    system: or(text),
    phases: fc.constantFrom(1, 3, null),
    lineToLineV: or(number),
    lineToNeutralV: or(number),
  });

const circuit = (id: string): fc.Arbitrary<Circuit> =>
  fc.record({
    id: fc.constant(id),
    panel: or(text),
    name: or(text),
    breakerA: or(number),
    protection: or(text),
  });

const run =
  (circuitIds: readonly string[]) =>
  (name: string): fc.Arbitrary<Run> =>
    fc.record({
      name: fc.constant(name),
      supplyV: or(number),
      circuitId: fc.constantFrom(...circuitIds),
      line: or(text),
      conductor: or(text),
      homeRunM: or(number),
      leadInM: or(number),
      homeRunConductor: or(text),
      dataOutput: or(text),
      locks: list(text),
    });

const statement: fc.Arbitrary<RunStatement> = fc.record(
  {
    supplyV: number,
    panel: text,
    circuit: text,
    breakerA: number,
    protection: text,
    line: text,
    conductor: text,
    homeRunM: number,
    leadInM: number,
  },
  { requiredKeys: [] },
);

const rowOrigin: fc.Arbitrary<RowOrigin> = fc.record({
  file: number,
  sheet: text,
  row: number,
  cells: list(or(scalar)),
});

const fixture =
  (runs: readonly string[]) =>
  (id: string): fc.Arbitrary<Fixture> =>
    fc.record({
      id: fc.constant(id),
      tag: or(text),
      type: or(text),
      run: fc.constantFrom(null, ...runs),
      place: or(number),
      fedFrom: or(text),
      spanM: or(number),
      installedM: or(number),
      loadW: or(number),
      powerFactor: or(number),
      mode: or(text),
      footprint: or(number),
      universe: or(number),
      address: or(number),
      unitLoad: or(number),
      leakageMa: or(number),
      shareSet: or(text),
      location: or(text),
      reach: or(text),
      area: or(text),
      description: or(text),
      remarks: or(text),
      differing: or(statement),
      unread: list(text),
      locks: list(text),
      origin: or(rowOrigin),
      alsoFrom: list(rowOrigin),
    });

const questionId = fc.constantFrom('hidden-rows', 'universe-base', 'tag-match', 'sheets');

const answers: fc.Arbitrary<ImportAnswers> = fc.record({
  sheets: or(list(fc.record({ file: number, sheet: text }))),
  headerRows: list(fc.record({ file: number, sheet: text, row: number })),
  columns: list(fc.record({ header: text, columnId: or(text) })),
  questions: list(fc.record({ id: questionId, file: number, value: text })),
  cells: list(fc.record({ cell: text, raw: text, text: or(text) })),
  accepted: list(fc.record({ cell: text, column: or(text), raw: text })),
});

const source: fc.Arbitrary<ScheduleSource> = fc.record({
  files: list(fc.record({ fileName: text })),
  sheets: list(
    fc.record({
      file: number,
      sheet: text,
      headerRow: number,
      columnAt: list(or(number)),
      universeBase: fc.constantFrom(0, 1),
      rowsRead: number,
      rowsSkipped: list(fc.record({ row: number, reason: text })),
    }),
  ),
  columns: list(fc.record({ header: text, columnId: or(text), unit: or(text) })),
  readings: list(
    fc.record(
      {
        cell: text,
        raw: text,
        column: or(text),
        value: or(scalar),
        confidence: fc.constantFrom('sure', 'likely', 'guess', 'refused'),
        note: text,
        offer: text,
      },
      { requiredKeys: ['cell', 'raw', 'column', 'value', 'confidence', 'note'] },
    ),
  ),
  questions: list(
    fc.record({
      id: questionId,
      file: number,
      text,
      choices: list(fc.record({ value: text, title: text })),
      chosen: text,
      answered: fc.boolean(),
    }),
  ),
  answers,
});

/** One record for each of some keys, all different. */
function table<T>(record: (key: string) => fc.Arbitrary<T>, minLength = 0): fc.Arbitrary<T[]> {
  return fc
    .uniqueArray(text, { minLength, maxLength: 4 })
    .chain((keys) => fc.tuple(...keys.map(record)));
}

function withCircuits(circuits: Circuit[]): fc.Arbitrary<Pick<Project, 'circuits' | 'runs'>> {
  const ids = circuits.map(({ id }) => id);
  const runs: fc.Arbitrary<Run[]> = ids.length === 0 ? fc.constant([]) : table(run(ids));
  return runs.map((made) => ({ circuits, runs: made }));
}

/** Any project whose keys are unique and whose references lead somewhere. */
export const anyProject: fc.Arbitrary<Project> = table(circuit)
  .chain(withCircuits)
  .chain(({ circuits, runs }) =>
    fc.record({
      name: text,
      revision: or(text),
      settings,
      profileChanges: list(
        fc.record({ setting: text, value: scalar, who: text, when: text, why: text }),
      ),
      types: table(type),
      lines: table(line),
      supplies: table(supply),
      circuits: fc.constant(circuits),
      runs: fc.constant(runs),
      fixtures: table(fixture(runs.map(({ name }) => name))),
      assumptions: list(fc.record({ what: text, value: scalar, unit: or(text), from: text })),
      source: or(source),
    }),
  );
