/**
 * A document solved and checked, kept up to date. One edited cell recomputes its run, the circuit
 * and output it hangs on, and the universes whose slots moved. The answer is that of a session made
 * anew, bit for bit (property test).
 */

import type { AddressPlan } from '../dmx/address-plan.ts';
import type { Change } from '../document/change.ts';
import type { ProfileNumbers } from '../document/profile.ts';
import type { Project } from '../document/project.ts';
import type { Finding } from '../limits/finding.ts';
import type { CircuitResult, LimitContext, OutputResult, UniverseResult } from '../limits/limit.ts';
import type { FixtureFacts } from '../solve/fixture-facts.ts';
import { indexProject, type ProjectIndex } from '../solve/project-index.ts';
import type { RunResult } from '../solve/run-result.ts';
import { solveFacts } from '../solve/solve-run.ts';
import {
  checkCircuit,
  checkOutput,
  checkProject,
  checkRun,
  checkUniverse,
} from './check-scopes.ts';
import { FindingSet } from './finding-set.ts';
import { RowTable } from './row-table.ts';
import { outputKey, type Regrouped, RunGroups } from './run-groups.ts';
import { type SlotChange, SlotTable } from './slot-table.ts';
import { type Touched, touchedBy } from './touched.ts';

const nothing: ReadonlySet<never> = new Set();

export class EngineSession {
  project: Project;
  private index: ProjectIndex;
  private rows: RowTable;
  private results = new Map<string, RunResult>();
  private groups = new RunGroups();
  private slots: SlotTable;
  private found = new FindingSet();

  constructor(project: Project) {
    this.project = project;
    this.index = indexProject(project);
    this.rows = new RowTable(project.fixtures, this.index.types);
    this.slots = new SlotTable(this.rows);
    this.solveAndCheckAll();
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
    return this.slots.plan;
  }

  /** Facts of a fixture; null for an id that is not in the project. */
  factsOf(fixtureId: string): FixtureFacts | null {
    return this.rows.factsOf(fixtureId);
  }

  /** All findings, worst first, then in the order of limits and runs. */
  get findings(): readonly Finding[] {
    return this.found.list(this.results.keys());
  }

  /** Circuits that have runs, in order of their first run. */
  get circuits(): CircuitResult[] {
    return [...this.groups.circuits.keys()].flatMap((id) => this.circuitOf(id) ?? []);
  }

  /** A circuit with its runs; null when it has none. */
  circuitOf(id: string): CircuitResult | null {
    const circuit = this.index.circuits.get(id);
    const runs = this.resultsOf(this.groups.circuits.get(id));
    return circuit === undefined || runs.length === 0 ? null : { circuit, runs };
  }

  /** A data output with its runs; null when it has none. */
  outputOf(key: string): OutputResult | null {
    const runs = this.resultsOf(this.groups.outputs.get(key));
    const name = key.slice(key.indexOf(':') + 1);
    return runs.length === 0 ? null : { key, name, assumed: key.startsWith('run:'), runs };
  }

  /** The fixtures that have a place in a universe, in order of rows. */
  universeOf(universe: number): UniverseResult {
    return { universe, facts: this.slots.factsIn(universe) };
  }

  /** What the limits see; also what remedies are tried in. */
  get context(): LimitContext {
    const { project, index, rows, slots } = this;
    const { numbers } = index;
    return { project, numbers, index, plan: slots.plan, allFacts: () => rows.all };
  }

  /** Takes the project after a command and the changes that led to it. */
  update(project: Project, changes: readonly Change[]): void {
    this.project = project;
    const touched = touchedBy(changes);
    if (touched.all) {
      this.index = indexProject(project);
      this.rows = new RowTable(project.fixtures, this.index.types);
      this.slots = new SlotTable(this.rows);
      this.found = new FindingSet();
      this.solveAndCheckAll();
      return;
    }
    if (touched.grouping) this.index = indexProject(project, this.index.types);
    const { membership, grouping, addresses } = touched;
    const replaced = membership ? null : this.rows.replace(project.fixtures, touched.fixtures);
    const dirty = replaced?.runs ?? this.rows.regroup(project.fixtures);
    this.addTouchedRuns(touched, dirty);
    for (const name of dirty) this.solve(name);
    if (membership || grouping) this.orderResults();
    const regrouped = membership || grouping ? this.groups.regroup(this.results) : null;
    const slots =
      replaced === null
        ? this.slots.replan()
        : addresses
          ? this.slots.replace(replaced.before)
          : null;
    this.recheck(touched, dirty, regrouped, slots);
  }

  private solveAndCheckAll(): void {
    this.results.clear();
    for (const name of this.rows.members.keys()) this.solve(name);
    this.groups.regroup(this.results);
    const { context } = this;
    for (const name of this.results.keys()) this.checkRun(name, context);
    for (const id of this.groups.circuits.keys()) this.checkCircuit(id, context);
    for (const key of this.groups.outputs.keys()) this.checkOutput(key, context);
    for (const universe of this.slots.universes) this.checkUniverse(universe, context);
    this.found.put('project', checkProject(context));
  }

  private solve(name: string): void {
    const members = this.rows.members.get(name);
    const run = this.index.runs.get(name);
    if (members === undefined || run === undefined) this.results.delete(name);
    else this.results.set(name, solveFacts(this.project, this.index, run, members));
  }

  private resultsOf(names: readonly string[] | undefined): RunResult[] {
    const results: RunResult[] = [];
    for (const name of names ?? []) {
      const result = this.results.get(name);
      if (result !== undefined) results.push(result);
    }
    return results;
  }

  /** Runs to solve again because they, or their circuit, changed. */
  private addTouchedRuns({ runs, circuits }: Touched, dirty: Set<string>): void {
    for (const name of runs) dirty.add(name);
    for (const id of circuits) {
      for (const name of this.groups.circuits.get(id) ?? []) dirty.add(name);
    }
  }

  /** Keeps the map of results in order of first appearance. */
  private orderResults(): void {
    const ordered = new Map<string, RunResult>();
    for (const name of this.rows.members.keys()) {
      const result = this.results.get(name);
      if (result !== undefined) ordered.set(name, result);
    }
    this.results = ordered;
    this.found.forgetOrder();
  }

  private recheck(
    touched: Touched,
    dirty: ReadonlySet<string>,
    regrouped: Regrouped | null,
    slots: SlotChange | null,
  ): void {
    const { context } = this;
    const runs = new Set(dirty);
    for (const id of slots?.moved ?? nothing) {
      const run = this.factsOf(id)?.fixture.run ?? null;
      if (run !== null) runs.add(run);
    }
    const circuits = new Set([...touched.circuits, ...(regrouped?.circuits ?? nothing)]);
    const outputs = new Set(regrouped?.outputs);
    for (const name of runs) {
      this.checkRun(name, context);
      const run = this.results.get(name)?.run;
      if (run === undefined || !dirty.has(name)) continue;
      circuits.add(run.circuitId);
      outputs.add(outputKey(run.dataOutput, name));
    }
    for (const id of circuits) this.checkCircuit(id, context);
    for (const key of outputs) this.checkOutput(key, context);
    for (const universe of this.dirtyUniverses(touched, slots)) {
      this.checkUniverse(universe, context);
    }
    if (touched.project || slots?.quiet === false) this.found.put('project', checkProject(context));
  }

  private dirtyUniverses(touched: Touched, slots: SlotChange | null): Set<number> {
    const universes = new Set<number>(slots?.universes);
    // Tags, types and share sets are in the findings of a universe, and so is the order of rows.
    if (touched.project || touched.addresses) {
      for (const id of touched.fixtures) {
        const universe = this.plan.get(id)?.universe ?? null;
        if (universe !== null) universes.add(universe);
      }
    }
    if (touched.membership) for (const universe of this.slots.universes) universes.add(universe);
    return universes;
  }

  private checkRun(name: string, context: LimitContext): void {
    const result = this.results.get(name);
    this.found.put(`run:${name}`, result === undefined ? [] : checkRun(result, context));
  }

  private checkCircuit(id: string, context: LimitContext): void {
    const result = this.circuitOf(id);
    this.found.put(`circuit:${id}`, result === null ? [] : checkCircuit(result, context));
  }

  private checkOutput(key: string, context: LimitContext): void {
    const result = this.outputOf(key);
    this.found.put(`output:${key}`, result === null ? [] : checkOutput(result, context));
  }

  private checkUniverse(universe: number, context: LimitContext): void {
    const result = this.universeOf(universe);
    this.found.put(
      `universe:${universe}`,
      result.facts.length === 0 ? [] : checkUniverse(result, context),
    );
  }
}
