/**
 * A document solved and checked, kept up to date. One edited cell recomputes its run, the circuit
 * and output it hangs on, and the universes whose slots moved. The answer is that of a session made
 * anew, bit for bit (property test).
 */

import { type AddressPlan, type AddressSlot, planAddresses } from '../dmx/address-plan.ts';
import type { Change } from '../document/change.ts';
import type { ProfileNumbers } from '../document/profile.ts';
import type { Fixture, Project } from '../document/project.ts';
import { type Finding, severityRank } from '../limits/finding.ts';
import type { CircuitResult, LimitContext, OutputResult, UniverseResult } from '../limits/limit.ts';
import { limitIds } from '../limits/limit.ts';
import { type FixtureFacts, factsOf } from '../solve/fixture-facts.ts';
import { indexProject, membersByRun, type ProjectIndex } from '../solve/project-index.ts';
import type { RunResult } from '../solve/run-result.ts';
import { solveRun } from '../solve/solve-run.ts';
import {
  checkCircuit,
  checkOutput,
  checkProject,
  checkRun,
  checkUniverse,
} from './check-scopes.ts';
import { type Touched, touchedBy } from './touched.ts';

const limitOrder = new Map<string, number>(limitIds.map((id, order) => [id, order]));

export class EngineSession {
  project: Project;
  private index: ProjectIndex;
  private members: Map<string, Fixture[]>;
  private facts = new Map<string, FixtureFacts>();
  private results = new Map<string, RunResult>();
  private slots: AddressPlan = new Map();
  private findingsOf = new Map<string, readonly Finding[]>();
  private sorted: readonly Finding[] | null = null;
  private circuitRuns = new Map<string, string[]>();
  private outputRuns = new Map<string, string[]>();

  constructor(project: Project) {
    this.project = project;
    this.index = indexProject(project);
    this.members = membersByRun(project.fixtures);
    this.rebuild();
  }

  /** Results of every run with fixtures, in order of first appearance. */
  get runs(): ReadonlyMap<string, RunResult> {
    return this.results;
  }

  /** The numbers in force: profile and what the project has changed. */
  get numbers(): ProfileNumbers {
    return this.index.numbers;
  }

  get plan(): AddressPlan {
    return this.slots;
  }

  /** Facts of a fixture; null for an id that is not in the project. */
  factsOf(fixtureId: string): FixtureFacts | null {
    return this.facts.get(fixtureId) ?? null;
  }

  /** All findings, worst first, then in the order of limits and runs. */
  get findings(): readonly Finding[] {
    if (this.sorted === null) {
      const runOrder = new Map([...this.results.keys()].map((name, order) => [name, order]));
      const rank = (f: Finding) => (f.run === null ? -1 : (runOrder.get(f.run) ?? -1));
      const sorted = [...this.findingsOf.values()]
        .flat()
        .sort(
          (a, b) =>
            severityRank(a.severity) - severityRank(b.severity) ||
            (limitOrder.get(a.limit) ?? 0) - (limitOrder.get(b.limit) ?? 0) ||
            rank(a) - rank(b) ||
            byText(a.id, b.id) ||
            byText(a.scope, b.scope),
        );
      this.sorted = withOwnIds(sorted);
    }
    return this.sorted;
  }

  /** Circuits that have runs, in order of their first run. */
  get circuits(): CircuitResult[] {
    return [...this.circuitRuns.keys()].flatMap((id) => this.circuitOf(id) ?? []);
  }

  /** Takes the project after a command and the changes that led to it. */
  update(project: Project, changes: readonly Change[]): void {
    this.project = project;
    const touched = touchedBy(changes);
    if (touched.all) {
      this.index = indexProject(project);
      this.members = membersByRun(project.fixtures);
      this.rebuild();
      return;
    }
    if (touched.grouping) this.index = indexProject(project);
    const dirty = this.dirtyRuns(touched);
    for (const name of dirty) this.solve(name);
    if (touched.membership || touched.grouping) this.orderResults();
    const regrouped = touched.grouping || touched.membership ? this.regroup() : new Set<string>();
    const moved = touched.addresses ? this.replan() : null;
    this.recheck(dirty, moved, regrouped, touched);
    this.sorted = null;
  }

  /** What the limits see; also what remedies are tried in. */
  get context(): LimitContext {
    const { project, facts } = this;
    let all: FixtureFacts[] | null = null;
    return {
      project,
      numbers: this.index.numbers,
      plan: this.slots,
      index: this.index,
      allFacts: () => {
        all ??= project.fixtures.flatMap((f) => facts.get(f.id) ?? []);
        return all;
      },
    };
  }

  private rebuild(): void {
    this.facts.clear();
    this.results.clear();
    this.findingsOf.clear();
    this.sorted = null;
    this.circuitRuns.clear();
    this.outputRuns.clear();
    for (const name of this.members.keys()) this.solve(name);
    this.factsOfLooseFixtures();
    this.regroup();
    this.slots = new Map();
    this.replan();
    const { context } = this;
    for (const [name, run] of this.results) this.put(`run:${name}`, checkRun(run, context));
    for (const id of this.circuitRuns.keys()) this.checkCircuit(id, context);
    for (const key of this.outputRuns.keys()) this.checkOutput(key, context);
    this.checkUniverses(null, context);
    this.put('project', checkProject(context));
  }

  private put(key: string, findings: readonly Finding[]): void {
    if (findings.length === 0) this.findingsOf.delete(key);
    else this.findingsOf.set(key, findings);
  }

  private factsOfLooseFixtures(): void {
    for (const fixture of this.project.fixtures) {
      if (fixture.run === null) this.facts.set(fixture.id, factsOf(fixture, this.index.types));
    }
  }

  private solve(name: string): void {
    const members = this.members.get(name);
    const run = this.index.runs.get(name);
    if (members === undefined || run === undefined) {
      this.results.delete(name);
      for (const fixture of members ?? []) {
        this.facts.set(fixture.id, factsOf(fixture, this.index.types));
      }
      return;
    }
    const result = solveRun(this.project, this.index, run, members);
    this.results.set(name, result);
    for (const facts of result.facts) this.facts.set(facts.fixture.id, facts);
  }

  /** Runs to solve again; keeps `members` and the facts of loose fixtures up to date on the way. */
  private dirtyRuns(touched: Touched): Set<string> {
    const dirty = new Set<string>(touched.runs);
    for (const [name, result] of this.results) {
      if (touched.circuits.size > 0 && touched.circuits.has(result.circuit.id)) dirty.add(name);
    }
    if (touched.membership) {
      const before = this.members;
      this.members = membersByRun(this.project.fixtures);
      for (const name of before.keys()) if (!this.members.has(name)) dirty.add(name);
      for (const [name, list] of this.members) {
        const old = before.get(name);
        const same = old?.length === list.length && list.every((f, i) => f === old[i]);
        if (!same) dirty.add(name);
      }
      const present = new Set(this.project.fixtures.map((f) => f.id));
      for (const id of this.facts.keys()) if (!present.has(id)) this.facts.delete(id);
      this.factsOfLooseFixtures();
    } else if (touched.fixtures.size > 0) this.replaceMembers(touched.fixtures, dirty);
    return dirty;
  }

  private replaceMembers(changed: ReadonlySet<string>, dirty: Set<string>): void {
    const fresh = new Map<string, Fixture>();
    for (const fixture of this.project.fixtures) {
      if (changed.has(fixture.id)) fresh.set(fixture.id, fixture);
      if (fresh.size === changed.size) break;
    }
    for (const fixture of fresh.values()) {
      if (fixture.run === null) {
        this.facts.set(fixture.id, factsOf(fixture, this.index.types));
        continue;
      }
      dirty.add(fixture.run);
      const list = this.members.get(fixture.run);
      const at = list?.findIndex((f) => f.id === fixture.id) ?? -1;
      if (list !== undefined && at >= 0) list[at] = fixture;
    }
  }

  /** Keeps the map of results in order of first appearance. */
  private orderResults(): void {
    const ordered = new Map<string, RunResult>();
    for (const name of this.members.keys()) {
      const result = this.results.get(name);
      if (result !== undefined) ordered.set(name, result);
    }
    this.results = ordered;
  }

  /** Groups runs by circuit and by data output; the keys whose list changed are returned. */
  private regroup(): Set<string> {
    const circuits = new Map<string, string[]>();
    const outputs = new Map<string, string[]>();
    for (const [name, { run }] of this.results) {
      push(circuits, run.circuitId, name);
      push(outputs, outputKey(run.dataOutput, name), name);
    }
    const changed = new Set<string>();
    const compare = (prefix: string, before: Map<string, string[]>, now: Map<string, string[]>) => {
      for (const [key, names] of before) {
        if (now.get(key)?.join('\u0000') !== names.join('\u0000')) changed.add(`${prefix}:${key}`);
      }
      for (const key of now.keys()) if (!before.has(key)) changed.add(`${prefix}:${key}`);
    };
    compare('circuit', this.circuitRuns, circuits);
    compare('output', this.outputRuns, outputs);
    this.circuitRuns = circuits;
    this.outputRuns = outputs;
    return changed;
  }

  /** Plans addresses anew; the fixtures whose slot is another now are returned. */
  private replan(): Set<string> {
    const before = this.slots;
    const addressable = (fixture: Fixture) => ({
      id: fixture.id,
      run: fixture.run,
      universe: fixture.universe,
      address: fixture.address,
      footprint: this.facts.get(fixture.id)?.footprint ?? null,
    });
    const runs = [...this.members.values()].map((list) => list.map(addressable));
    this.slots = planAddresses(this.project.fixtures.map(addressable), runs);
    const moved = new Set<string>();
    for (const [id, slot] of this.slots) if (!sameSlot(before.get(id), slot)) moved.add(id);
    for (const id of before.keys()) if (!this.slots.has(id)) moved.add(id);
    this.universesLeft = new Set([...moved].flatMap((id) => before.get(id)?.universe ?? []));
    return moved;
  }

  private universesLeft: ReadonlySet<number> = new Set();

  private recheck(
    dirty: ReadonlySet<string>,
    moved: ReadonlySet<string> | null,
    regrouped: ReadonlySet<string>,
    touched: Touched,
  ): void {
    const { context } = this;
    const runs = new Set(dirty);
    for (const id of moved ?? []) {
      const run = this.facts.get(id)?.fixture.run ?? null;
      if (run !== null) runs.add(run);
    }
    const circuits = new Set<string>(touched.circuits);
    const outputs = new Set<string>();
    for (const name of runs) {
      const result = this.results.get(name);
      this.put(`run:${name}`, result === undefined ? [] : checkRun(result, context));
      if (result === undefined || !dirty.has(name)) continue;
      circuits.add(result.run.circuitId);
      outputs.add(outputKey(result.run.dataOutput, name));
    }
    for (const key of regrouped) {
      const [kind, id] = [key.slice(0, key.indexOf(':')), key.slice(key.indexOf(':') + 1)];
      (kind === 'circuit' ? circuits : outputs).add(id);
    }
    for (const id of circuits) this.checkCircuit(id, context);
    for (const key of outputs) this.checkOutput(key, context);
    this.checkUniverses(this.dirtyUniverses(moved, touched), context);
    if (touched.project) this.put('project', checkProject(context));
  }

  private dirtyUniverses(moved: ReadonlySet<string> | null, touched: Touched): Set<number> {
    const universes = new Set<number>(moved === null ? [] : this.universesLeft);
    const add = (id: string) => {
      const universe = this.slots.get(id)?.universe ?? null;
      if (universe !== null) universes.add(universe);
    };
    for (const id of moved ?? []) add(id);
    if (touched.project) for (const id of touched.fixtures) add(id);
    // Runs that came, went or changed order change what a universe lists.
    if (touched.membership) for (const id of this.slots.keys()) add(id);
    return universes;
  }

  private checkUniverses(only: ReadonlySet<number> | null, context: LimitContext): void {
    if (only !== null && only.size === 0) return;
    const held = new Map<number, FixtureFacts[]>();
    for (const { id } of this.project.fixtures) {
      const universe = this.slots.get(id)?.universe ?? null;
      const facts = this.facts.get(id);
      if (universe === null || facts === undefined || only?.has(universe) === false) continue;
      push(held, universe, facts);
    }
    for (const universe of only ?? [])
      if (!held.has(universe)) this.put(`universe:${universe}`, []);
    for (const [universe, facts] of held) {
      this.put(`universe:${universe}`, checkUniverse({ universe, facts }, context));
    }
  }

  /** A circuit with its runs; null when it has none. */
  circuitOf(id: string): CircuitResult | null {
    const circuit = this.index.circuits.get(id);
    const runs = (this.circuitRuns.get(id) ?? []).flatMap((name) => this.results.get(name) ?? []);
    return circuit === undefined || runs.length === 0 ? null : { circuit, runs };
  }

  /** A data output with its runs; null when it has none. */
  outputOf(key: string): OutputResult | null {
    const runs = (this.outputRuns.get(key) ?? []).flatMap((name) => this.results.get(name) ?? []);
    const name = key.slice(key.indexOf(':') + 1);
    return runs.length === 0 ? null : { key, name, assumed: key.startsWith('run:'), runs };
  }

  /** The fixtures that have a place in a universe, in order of rows. */
  universeOf(universe: number): UniverseResult {
    const facts = this.project.fixtures.flatMap(({ id }) => {
      const here = this.slots.get(id)?.universe === universe;
      return here ? (this.facts.get(id) ?? []) : [];
    });
    return { universe, facts };
  }

  private checkCircuit(id: string, context: LimitContext): void {
    const result = this.circuitOf(id);
    this.put(`circuit:${id}`, result === null ? [] : checkCircuit(result, context));
  }

  private checkOutput(key: string, context: LimitContext): void {
    const result = this.outputOf(key);
    this.put(`output:${key}`, result === null ? [] : checkOutput(result, context));
  }
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Names can stand twice (two rows of one tag, odd names of runs): then the later finding gets a number. */
function withOwnIds(findings: readonly Finding[]): Finding[] {
  const seen = new Map<string, number>();
  return findings.map((finding) => {
    const count = (seen.get(finding.id) ?? 0) + 1;
    seen.set(finding.id, count);
    return count === 1 ? finding : { ...finding, id: `${finding.id}~${count}` };
  });
}

function outputKey(dataOutput: string | null, run: string): string {
  return dataOutput === null ? `run:${run}` : `output:${dataOutput}`;
}

function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [value]);
  else list.push(value);
}

function sameSlot(a: AddressSlot | undefined, b: AddressSlot): boolean {
  return (
    a !== undefined &&
    a.universe === b.universe &&
    a.address === b.address &&
    a.lastAddress === b.lastAddress &&
    a.proposed === b.proposed
  );
}
