import { countTakeoff, type Takeoff } from '../takeoff/takeoff.ts';
import type { EngineSession } from './engine-session.ts';

/** The takeoff of everything that is on a run. */
export function projectTakeoff(session: EngineSession): Takeoff {
  return countTakeoff(
    [...session.runs.values()].map(({ line, facts, spanM, piecesM }) => ({
      line: line?.name ?? null,
      fixtures: facts.map((f) => ({ type: f.fixture.type })),
      // A span that no stock serves cannot be counted either.
      piecesM: piecesM.map((pieces, i) =>
        pieces?.length === 0 && (spanM[i] ?? 0) > 0 ? null : pieces,
      ),
      conductorsPerFixture: line?.conductorsPerFixture ?? 8,
      conductorsPerHeadBox: line?.conductorsPerHeadBox ?? 6,
    })),
  );
}
