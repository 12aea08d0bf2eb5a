/** Every value in force that came from an option, a default or the profile, not from the file. */
import { blankLine } from '../document/blank.ts';
import type { Assumption, Project } from '../document/project.ts';
import { senderLoads } from '../limits/rules/unit-loads.limit.ts';
import type { RunResult } from '../solve/run-result.ts';
import { spareShare } from '../takeoff/takeoff.ts';
import { parseConductorSize } from '../units/conductor-size.ts';
import type { EngineSession } from './engine-session.ts';

type Add = (what: string, value: Assumption['value'], unit: string | null, from: string) => void;

const profileNames = { 'north-america': 'profile north-america', iec: 'profile iec' } as const;

function profileAssumptions(project: Project, session: EngineSession, add: Add): void {
  const { settings } = project;
  const { numbers } = session;
  const from = `${profileNames[settings.profile]}; verify in the adopted edition`;
  if (settings.supplyTolerancePct === null) {
    add('Supply tolerance, both ways', numbers.supplyTolerancePct, '%', from);
  }
  if (settings.branchDropPct === null) add('Branch drop limit', numbers.branchDropPct, '%', from);
  if (settings.branchDropBinding === null) {
    add('Branch drop limit is binding', numbers.branchDropBinding, null, from);
  }
  if (settings.continuousFactor === null) {
    add('Part of a breaker a continuous load may use', numbers.continuousFactor, null, from);
  }
}

function tableNote(name: string): string {
  const size = parseConductorSize(name);
  if (!size.ok) return 'conductor name';
  return size.system === 'awg'
    ? 'NEC Ch 9 Table 8, stranded uncoated copper, 75 °C, per kft ÷ 0.3048'
    : 'IEC 60228 class 5 plain copper × (1 + 0.00393·50), 70 °C';
}

function conductorAssumptions(project: Project, results: readonly RunResult[], add: Add): void {
  const { settings } = project;
  const named = new Map<string, number>();
  const lines = new Map(
    results.flatMap((r) => (r.line === null ? [] : [[r.line.name, r.line] as const])),
  );
  for (const { run, line, lineOhmPerKm, homeRunOhmPerKm } of results) {
    if (settings.exactOhmPerKm !== null) break;
    const lineName = run.conductor ?? (line?.resistanceOhmPerKm === null ? line.conductor : null);
    if (lineName !== null && lineName !== undefined && lineOhmPerKm !== null)
      named.set(lineName, lineOhmPerKm);
    const homeName = run.homeRunConductor ?? settings.homeRunConductor;
    if (homeName !== null && homeRunOhmPerKm !== null) named.set(homeName, homeRunOhmPerKm);
  }
  for (const [name, ohm] of named)
    add(`Hot resistance of ${name}, per conductor`, ohm, 'ohm/km', tableNote(name));
  if (settings.homeRunConductor === null && settings.exactOhmPerKm === null) {
    const same = results.some((r) => r.run.homeRunConductor === null && r.lineOhmPerKm !== null);
    if (same) add('Conductor of the home run', 'as the line', null, 'no home run conductor given');
  }
  if (settings.exactReactanceOhmPerKm === null) {
    for (const line of lines.values()) {
      if (line.reactanceOhmPerKm === null)
        add(`Reactance of line ${line.name}`, 0, 'ohm/km', 'default');
    }
    const lineless = results.some((r) => r.line === null && r.lineOhmPerKm !== null);
    if (lineless) add('Reactance of runs without a line', 0, 'ohm/km', 'default');
    const homeNames = new Set(
      results.map((r) => r.run.homeRunConductor ?? settings.homeRunConductor),
    );
    for (const name of homeNames) {
      if (name !== null) add(`Reactance of home runs of ${name}`, 0, 'ohm/km', 'default');
    }
  }
  if (results.length > 0) {
    add('Resistance of mated joints', 0, 'ohm', 'default');
    add('Tails', 0, 'm', 'default');
  }
}

function runAssumptions(results: readonly RunResult[], add: Add): void {
  const names = (runs: readonly RunResult[]) => runs.map((r) => r.run.name).join(', ');
  const noHome = results.filter((r) => !r.homeRunKnown);
  if (noHome.length > 0) {
    add(
      'Home run, only to show volts from the head box',
      0,
      'm',
      `not given; runs ${names(noHome)}`,
    );
  }
  const own = results.filter((r) => r.circuit.name === null);
  if (own.length > 0) add('Circuit', 'each run its own', null, `not given; runs ${names(own)}`);
  const outputs = results.filter((r) => r.run.dataOutput === null);
  if (outputs.length > 0)
    add('Data output', 'one a run', null, `not given; runs ${names(outputs)}`);
  const noStock = results.filter((r) => (r.line?.jumperLengthsM.length ?? 0) === 0);
  if (noStock.length > 0) {
    add('Installed length of spans', 'as drawn', null, `no stock lengths; runs ${names(noStock)}`);
  }
}

/** Counts the takeoff and the data outputs work with that no file states. */
function countAssumptions(results: readonly RunResult[], add: Add): void {
  if (results.length === 0) return;
  const { conductorsPerFixture, conductorsPerHeadBox } = blankLine('');
  const lines = new Set(results.map((r) => r.line));
  for (const line of lines) {
    const where = line === null ? 'runs without a line' : `line ${line.name}`;
    const from = line === null ? 'default' : 'default of the line; editable';
    if (line === null || line.conductorsPerFixture === conductorsPerFixture) {
      const what = `Conductors to terminate per fixture, ${where}`;
      add(what, conductorsPerFixture, 'conductors', from);
    }
    if (line === null || line.conductorsPerHeadBox === conductorsPerHeadBox) {
      const what = `Conductors to terminate per head box, ${where}`;
      add(what, conductorsPerHeadBox, 'conductors', from);
    }
  }
  const spares = 'per item, rounded up, at least one; common practice, no source';
  add('Spares in the takeoff', 100 * spareShare, '%', spares);
  add('Sender on a data output', senderLoads, 'unit loads', 'counted with the fixtures');
}

function fixtureAssumptions(project: Project, session: EngineSession, add: Add): void {
  const windows = new Set<string>();
  const modes = new Set<string>();
  const onlyModes = new Set<string>();
  let proposed = 0;
  for (const { id } of project.fixtures) {
    const facts = session.factsOf(id);
    if (facts === null) continue;
    if (facts.windowAssumed && facts.type !== null) windows.add(facts.type.name);
    if (facts.footprintSource === 'mode-name' && facts.fixture.mode !== null)
      modes.add(facts.fixture.mode);
    if (facts.footprintSource === 'only-mode' && facts.type !== null)
      onlyModes.add(facts.type.name);
    if (session.plan.get(id)?.proposed === true) proposed += 1;
  }
  for (const name of windows)
    add(`Input window of type ${name}`, 'printed window ±10 %', null, 'absolute window not given');
  for (const name of modes)
    add(`Footprint of mode ${name}`, Number.parseInt(name, 10), 'slots', 'the name of the mode');
  for (const name of onlyModes) add(`Mode of type ${name}`, 'its only one', null, 'mode not given');
  if (proposed > 0) {
    add(
      'Addresses proposed',
      proposed,
      'fixtures',
      'not given: whole runs in order, contiguous, or the lowest free slots',
    );
  }
  if (project.fixtures.length > 0) add('Universe numbers', 'base 1', null, 'convention');
}

/** What the tables carry, or a careful engineer would ask, that no limit here looks at yet. */
const unchecked: readonly string[] = [
  'Most fixtures per breaker (inrush)',
  'Ampacity of conductors, apart from small copper ones named 14, 12 or 10 AWG',
  'Fault clearing at the terminator',
  'Phase balance and neutral',
  'Line listed for power and data together',
  'Length of the data line and its termination',
  'Wet places, public reach, dwelling voltages, egress lighting',
];

function notCheckedHere(add: Add): void {
  for (const what of unchecked)
    add(what, 'not checked', null, 'no limit of this version covers it');
}

/** All assumptions of a solved project, those of the import and of options first. */
export function listAssumptions(project: Project, session: EngineSession): Assumption[] {
  const list: Assumption[] = [...project.assumptions];
  const add: Add = (what, value, unit, from) => list.push({ what, value, unit, from });
  const results = [...session.runs.values()];
  profileAssumptions(project, session, add);
  conductorAssumptions(project, results, add);
  runAssumptions(results, add);
  countAssumptions(results, add);
  fixtureAssumptions(project, session, add);
  if (results.length > 0) notCheckedHere(add);
  return list;
}
