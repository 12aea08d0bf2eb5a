/** Does to a job, by commands, what a remedy says. */

import { applyCommand } from '../../src-shared/document/apply.ts';
import type { Change, Command } from '../../src-shared/document/change.ts';
import { editCell } from '../../src-shared/document/edit-cell.ts';
import type { Project } from '../../src-shared/document/project.ts';
import type { Finding } from '../../src-shared/limits/finding.ts';
import type { LimitId } from '../../src-shared/limits/limit.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { remediesFor } from '../../src-shared/session/remedies.ts';
import { cleanProject, findingsOf, withType } from './build-project.ts';

export function apply(project: Project, command: Command): Project {
  const applied = applyCommand(project, command);
  if (!applied.ok) throw new Error(applied.reason);
  return applied.project;
}

export const change = (project: Project, ...changes: Change[]) =>
  apply(project, { label: 'remedy', changes });

export function type(
  project: Project,
  id: string,
  column: Parameters<typeof editCell>[2],
  value: string | number,
): Project {
  const edit = editCell(project, id, column, value);
  if (!edit.ok) throw new Error(edit.reason);
  return apply(project, edit.command);
}

export function remediesOf(project: Project, id: LimitId): readonly string[] {
  const session = new EngineSession(project);
  return session.findings.filter((f) => f.limit === id).flatMap((f) => remediesFor(f, session));
}

/** The numbers a remedy names, such as 3 and 3 of "Split the run 3 + 3: …". */
export function captured(remedies: readonly string[], pattern: RegExp): string[] {
  const found = remedies.flatMap((text) => pattern.exec(text) ?? []);
  if (found.length === 0) throw new Error(`no remedy like ${pattern} in ${remedies.join(' | ')}`);
  return found.slice(1);
}

/** Still over what is allowed at some level; a watch that holds is none. */
export function stillBroken(project: Project, id: LimitId): Finding[] {
  return findingsOf(project, id).filter(
    (f) =>
      f.severity === 'stop' ||
      f.severity === 'breach' ||
      (f.value !== null &&
        f.allowed !== null &&
        (id === 'fixture-under-volts' ? f.value < f.allowed : f.value > f.allowed)),
  );
}

/** Cuts run R1 into parts of these counts: new runs on circuits of their own, home run and lead-in as today. */
export function split(project: Project, counts: readonly number[]): Project {
  const members = project.fixtures.filter((f) => f.run === 'R1');
  const [run] = project.runs;
  if (run === undefined) throw new Error('no run');
  const leadInM = run.leadInM ?? members[0]?.spanM ?? null;
  const installedM = members[0]?.installedM ?? null;
  let from = counts[0] ?? 0;
  let now = change(project, {
    kind: 'set',
    table: 'runs',
    key: 'R1',
    field: 'leadInM',
    value: leadInM,
  });
  counts.slice(1).forEach((count, i) => {
    const name = `R1${'bcdefgh'[i]}`;
    now = change(
      now,
      { kind: 'insert', table: 'runs', index: 0, records: [{ ...run, name, leadInM }] },
      ...members.slice(from, from + count).flatMap((f, place): Change[] => [
        { kind: 'set', table: 'fixtures', key: f.id, field: 'run', value: name },
        { kind: 'set', table: 'fixtures', key: f.id, field: 'place', value: place + 1 },
        ...(place === 0
          ? [
              {
                kind: 'set',
                table: 'fixtures',
                key: f.id,
                field: 'installedM',
                value: installedM,
              } as const,
            ]
          : []),
      ]),
    );
    from += count;
  });
  if (from !== members.length) throw new Error(`${counts.join(' + ')} are not ${members.length}`);
  return now;
}

export const splitCounts = (remedies: readonly string[]) =>
  (captured(remedies, /^Split the run ([\d +]+):/)[0] ?? '').split(' + ').map(Number);

export function takenOff(remedies: readonly string[]): number {
  const [many] = captured(remedies, /^Take (?:the last fixture|the last (\d+) fixtures) off/);
  return many === undefined ? 1 : Number(many);
}

/** Run R1 with `count` fixtures of `watts`. */
export function longRun(count: number, watts: number): Project {
  const p = cleanProject();
  const model = p.fixtures[1];
  if (model === undefined) throw new Error('no model');
  const more = Array.from({ length: count - 4 }, (_, i) => ({
    ...model,
    id: `R1f${5 + i}`,
    tag: `R1-${5 + i}`,
    place: 5 + i,
    fedFrom: null,
    address: 101 + 4 * i,
  }));
  return withType({ ...p, fixtures: [...p.fixtures, ...more] }, 'U1', { loadW: watts });
}

/** Types the starts a remedy names, as "R1-02 5, R1-03 9". */
export function renumber(project: Project, starts: string, universe?: string): Project {
  return starts.split(', ').reduce((now, text) => {
    const [, tag, start] = /^(.+) (\d+)$/.exec(text) ?? [];
    const id = now.fixtures.find((f) => f.tag === tag)?.id ?? '';
    const there = universe === undefined ? now : type(now, id, 'universe', Number(universe));
    return type(there, id, 'address', Number(start));
  }, project);
}
