import { countTakeoff, type Takeoff } from '../takeoff/takeoff.ts';
import type { EngineSession } from './engine-session.ts';

/** The takeoff of everything that is on a run. */
export function projectTakeoff(session: EngineSession): Takeoff {
  return countTakeoff(
    [...session.runs.values()].map(({ line, facts, piecesM }) => ({
      line: line?.name ?? null,
      fixtures: facts.map((f) => ({ type: f.fixture.type })),
      piecesM,
      conductorsPerFixture: line?.conductorsPerFixture ?? 8,
      conductorsPerHeadBox: line?.conductorsPerHeadBox ?? 6,
    })),
  );
}
