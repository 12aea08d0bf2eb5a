import type { ColumnId } from '../columns/column-table.ts';
import type { AddressPlan } from '../dmx/address-plan.ts';
import type { ProfileNumbers } from '../document/profile.ts';
import type { Circuit, ProfileId, Project } from '../document/project.ts';
import type { FixtureFacts } from '../solve/fixture-facts.ts';
import type { ProjectIndex } from '../solve/project-index.ts';
import type { RunResult, SupplyLevel } from '../solve/run-result.ts';

/** Worst first. "Not checked" is never shown, counted or exported as holding. */
export const severities = ['stop', 'breach', 'watch', 'note', 'not-checked'] as const;
export type Severity = (typeof severities)[number];

export const limitIds = [
  'wrong-voltage',
  'mixed-voltage',
  'line-rating',
  'circuit-load',
  'breaker-over-line',
  'branch-drop',
  'fixture-under-volts',
  'no-operating-point',
  'run-length',
  'branch',
  'broken-chain',
  'two-universes',
  'address-overlap',
  'past-512',
  'footprint-unknown',
  'no-stock-pieces',
  'leakage',
  'unit-loads',
  'duplicate-tag',
  'missing-value',
  'unlikely-value',
  'differing-values',
] as const;
export type LimitId = (typeof limitIds)[number];

/** A cell a finding points at. */
export interface Mark {
  readonly fixtureId: string;
  readonly column: ColumnId;
}

/** What a check found at one place. */
export interface Outcome {
  readonly severity: Severity;
  /** What within the scope: makes the id of the finding. Empty: the scope itself. */
  readonly part: string;
  readonly fixtureIds: readonly string[];
  readonly marks: readonly Mark[];
  readonly value: number | null;
  readonly allowed: number | null;
  readonly unit: string | null;
  /** Supply level that decided; null where supply plays no part. */
  readonly level: SupplyLevel | null;
  /** The whole sentence: what, number, limit, by how much, where, why. From `words/`. */
  readonly message: string;
}

/** What a remedy has to cure. */
export interface BrokenLimit {
  readonly fixtureIds: readonly string[];
  readonly severity: Severity;
}

/** A circuit with its runs. */
export interface CircuitResult {
  readonly circuit: Circuit;
  readonly runs: readonly RunResult[];
}

/** A data output with its runs. */
export interface OutputResult {
  /** `run:NAME` for an output of its own, else `output:NAME`. */
  readonly key: string;
  readonly name: string;
  /** Not stated in the file: one output a run, an assumption. */
  readonly assumed: boolean;
  readonly runs: readonly RunResult[];
}

/** A universe with the fixtures that have a place in it. */
export interface UniverseResult {
  readonly universe: number;
  readonly facts: readonly FixtureFacts[];
}

export interface LimitContext {
  readonly project: Project;
  readonly numbers: ProfileNumbers;
  readonly plan: AddressPlan;
  readonly index: ProjectIndex;
  /** Facts of every fixture, runs or none, in order of rows. */
  readonly allFacts: () => readonly FixtureFacts[];
}

interface LimitHead {
  readonly id: LimitId;
  readonly title: string;
  /** Code clause, listing, standard or practice; printed as "verify in the adopted edition". */
  readonly basis: string | Readonly<Record<ProfileId, string>>;
  /** What must be known for the check to be made. */
  readonly needs: string;
}

export interface RunLimit extends LimitHead {
  readonly scope: 'run';
  readonly check: (run: RunResult, context: LimitContext) => readonly Outcome[];
  /** Ways out, tried through the same engine; a way that does not hold at every supply level is not one. */
  readonly remedies: (
    run: RunResult,
    context: LimitContext,
    broken: BrokenLimit,
  ) => readonly string[];
}
export interface CircuitLimit extends LimitHead {
  readonly scope: 'circuit';
  readonly check: (circuit: CircuitResult, context: LimitContext) => readonly Outcome[];
  /** Ways out, tried through the same engine; a way that does not hold at every supply level is not one. */
  readonly remedies: (
    circuit: CircuitResult,
    context: LimitContext,
    broken: BrokenLimit,
  ) => readonly string[];
}
export interface OutputLimit extends LimitHead {
  readonly scope: 'output';
  readonly check: (output: OutputResult, context: LimitContext) => readonly Outcome[];
  /** Ways out, tried through the same engine; a way that does not hold at every supply level is not one. */
  readonly remedies: (
    output: OutputResult,
    context: LimitContext,
    broken: BrokenLimit,
  ) => readonly string[];
}
export interface UniverseLimit extends LimitHead {
  readonly scope: 'universe';
  readonly check: (universe: UniverseResult, context: LimitContext) => readonly Outcome[];
  /** Ways out, tried through the same engine; a way that does not hold at every supply level is not one. */
  readonly remedies: (
    universe: UniverseResult,
    context: LimitContext,
    broken: BrokenLimit,
  ) => readonly string[];
}
export interface ProjectLimit extends LimitHead {
  readonly scope: 'project';
  readonly check: (context: LimitContext) => readonly Outcome[];
  readonly remedies: (context: LimitContext, broken: BrokenLimit) => readonly string[];
}
export type Limit = RunLimit | CircuitLimit | OutputLimit | UniverseLimit | ProjectLimit;

/** The basis of a limit under a profile. */
export function basisOf(limit: Limit, profile: ProfileId): string {
  return typeof limit.basis === 'string' ? limit.basis : limit.basis[profile];
}
