import { expect, test } from 'vitest';
import type { Project } from '../../src-shared/document/project.ts';
import { listAssumptions } from '../../src-shared/session/assumptions.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { cleanProject, withLine, withRun } from '../limits/build-project.ts';

// The counts themselves are common practice, no source. Checked here: what is in force is listed.

const listed = (project: Project, word: RegExp) =>
  listAssumptions(project, new EngineSession(project))
    .filter(({ what }) => word.test(what))
    .map(({ what, value, unit, from }) => `${what}: ${value} ${unit} (${from})`);

const clean = cleanProject();

test('conductors to terminate are listed where a line has the default, not where it says its own', () => {
  expect(listed(clean, /^Conductors to terminate/)).toEqual([
    'Conductors to terminate per fixture, line K1: 8 conductors (default of the line; editable)',
    'Conductors to terminate per head box, line K1: 6 conductors (default of the line; editable)',
    'Conductors to terminate per fixture, line K2: 8 conductors (default of the line; editable)',
    'Conductors to terminate per head box, line K2: 6 conductors (default of the line; editable)',
  ]);
  const own = withLine(clean, 'K1', { conductorsPerFixture: 5, conductorsPerHeadBox: 3 });
  expect(listed(own, /^Conductors to terminate .* K1/)).toEqual([]);
});

test('a run without a line takes the same counts, and says so', () => {
  const lineless = withRun(clean, 'R1', { line: 'none such' });
  expect(listed(lineless, /runs without a line/)).toContain(
    'Conductors to terminate per fixture, runs without a line: 8 conductors (default)',
  );
});

test('spares and the sender are listed as soon as there is a run', () => {
  const words = /^(Spares|Sender)/;
  expect(listed(clean, words)).toEqual([
    'Spares in the takeoff: 5 % (per item, rounded up, at least one; common practice, no source)',
    'Sender on a data output: 1 unit loads (counted with the fixtures)',
  ]);
  expect(listed({ ...clean, fixtures: [], runs: [], circuits: [] }, words)).toEqual([]);
});
