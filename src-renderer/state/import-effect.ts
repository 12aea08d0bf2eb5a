/** What reading a file otherwise has changed, in one line an engineer can check. */
import type { Fixture, Project } from '../../src-shared/document/project.ts';
import type { FindingCounts } from '../../src-shared/limits/finding.ts';

/** What came, went and is otherwise. */
export interface ReadEffect {
  readonly added: number;
  readonly removed: number;
  readonly changed: number;
  /** Types, lines and panels that came, went or say something else. */
  readonly types: number;
  readonly lines: number;
  readonly panels: number;
}

/** Compares what is said of the fixtures; where they stood in a file does not count. */
export function readEffect(before: Project, after: Project): ReadEffect {
  const old = new Map(before.fixtures.map((fixture) => [fixture.id, fixture]));
  const runs = changedRuns(before, after);
  let added = 0;
  let changed = 0;
  for (const fixture of after.fixtures) {
    const was = old.get(fixture.id);
    if (was === undefined) added += 1;
    else if (!sameFixture(was, fixture) || runs.has(fixture.run ?? '')) changed += 1;
    old.delete(fixture.id);
  }
  return {
    added,
    removed: old.size,
    changed,
    types: otherRecords(before.types, after.types),
    lines: otherRecords(before.lines, after.lines),
    panels: otherRecords(before.supplies, after.supplies),
  };
}

interface Named {
  readonly name: string;
}

/** How many records of a table are not in the other one just so. */
function otherRecords(before: readonly Named[], after: readonly Named[]): number {
  if (before === after) return 0;
  const texts = (list: readonly Named[]) => new Map(list.map((r) => [r.name, JSON.stringify(r)]));
  const [old, next] = [texts(before), texts(after)];
  const names = new Set([...old.keys(), ...next.keys()]);
  return [...names].filter((name) => old.get(name) !== next.get(name)).length;
}

/** Runs that say something else of themselves or of their circuit: so do all their fixtures. */
function changedRuns(before: Project, after: Project): ReadonlySet<string> {
  if (before.runs === after.runs && before.circuits === after.circuits) return new Set();
  const told = ({ runs, circuits }: Project) => {
    const byId = new Map(circuits.map((circuit) => [circuit.id, circuit]));
    return new Map(
      runs.map((run) => [run.name, JSON.stringify([run, byId.get(run.circuitId) ?? null])]),
    );
  };
  const was = told(before);
  const changed = [...told(after)].filter(
    ([name, text]) => was.has(name) && was.get(name) !== text,
  );
  return new Set(changed.map(([name]) => name));
}

function sameFixture(a: Fixture, b: Fixture): boolean {
  if (a === b) return true;
  const plain = ({ origin: _origin, alsoFrom: _alsoFrom, ...rest }: Fixture) =>
    JSON.stringify(rest);
  return plain(a) === plain(b);
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

function recordWords({ added, removed, changed, types, lines, panels }: ReadEffect): string {
  const parts = [
    ...(added === 0 ? [] : [`${counted(added, 'fixture')} more`]),
    ...(removed === 0 ? [] : [`${counted(removed, 'fixture')} less`]),
    ...(changed === 0 ? [] : [`${counted(changed, 'fixture')} changed`]),
    ...(types === 0 ? [] : [`${counted(types, 'type')} changed`]),
    ...(lines === 0 ? [] : [`${counted(lines, 'line')} changed`]),
    ...(panels === 0 ? [] : [`${counted(panels, 'panel')} changed`]),
  ];
  return parts.length === 0 ? 'no fixture changed' : parts.join(', ');
}

const shown = [
  ['stop', 'stop', 'stops'],
  ['breach', 'breach', 'breaches'],
  ['watch', 'watch', 'watches'],
  ['note', 'note', 'notes'],
  ['notChecked', 'not checked', 'not checked'],
] as const;

function findingWords(before: FindingCounts, after: FindingCounts): string {
  const parts = shown.flatMap(([key, one, many]) => {
    const by = after[key] - before[key];
    if (by === 0) return [];
    const size = Math.abs(by);
    return `${size} ${size === 1 ? one : many} ${by > 0 ? 'more' : 'less'}`;
  });
  return parts.length === 0 ? 'findings as before' : parts.join(', ');
}

/** `3 fixtures changed; 1 breach less`. */
export function effectWords(
  effect: ReadEffect,
  before: FindingCounts,
  after: FindingCounts,
): string {
  return `${recordWords(effect)}; ${findingWords(before, after)}`;
}
