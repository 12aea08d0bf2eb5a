import type { RunResult } from '../../solve/run-result.ts';
import type { Outcome, RunLimit } from '../limit.ts';
import { idsOf, labelOf, marksOf, notChecked, plainOutcome } from '../outcome.ts';
import { sayBrokenChain } from '../words/data-words.ts';
import { listed } from '../words/shared-words.ts';
import {
  branches,
  expectedFeeder,
  feederName,
  isPlainChain,
  linkLabel,
  statedLinks,
} from './chain-links.ts';

interface Fault {
  readonly id: string;
  readonly column: 'place' | 'fedFrom';
  readonly words: string;
}

/** Places must be 1, 2, 3 …: each once, none left out. */
function placeFaults(run: RunResult): Fault[] {
  const faults: Fault[] = [];
  let expected = 1;
  let previous: number | null = null;
  for (const facts of run.facts) {
    const { place, id } = facts.fixture;
    if (place === null) continue;
    if (place === previous) {
      faults.push({
        id,
        column: 'place',
        words: `place ${place} stands twice (${labelOf(facts)})`,
      });
      continue;
    }
    if (place !== expected) {
      const gap = place - expected;
      const words =
        gap > 0
          ? `place ${expected}${gap > 1 ? ` to ${place - 1}` : ''} is missing before ${labelOf(facts)}`
          : `place ${place} of ${labelOf(facts)} is below 1`;
      faults.push({ id, column: 'place', words });
    }
    previous = place;
    expected = place + 1;
  }
  return faults;
}

/** A feeder that place order does not ask for, where it is not a branch's doing. */
function feederFaults(run: RunResult): Fault[] {
  if (isPlainChain(run)) return [];
  const forked = new Set(branches(run).flatMap((links) => links.map((l) => l.facts.fixture.id)));
  return statedLinks(run).flatMap((link) => {
    const { id, place } = link.facts.fixture;
    const expected = expectedFeeder(run, link.index);
    if (place === null || forked.has(id) || expected === null || expected === link.key) return [];
    const asked = link.index === 0 ? 'the head box' : labelOf(run.facts[link.index - 1]);
    const words = `${linkLabel(link)} is fed from ${feederName(link.key, link.written)}, by place from ${asked}`;
    return [{ id, column: 'fedFrom' as const, words }];
  });
}

/** Places are 1, 2, 3 … and the feeders follow them. */
function isInOrder(run: RunResult): boolean {
  return run.facts.every((f, index) => f.fixture.place === index + 1) && isPlainChain(run);
}

function check(run: RunResult): Outcome[] {
  if (isInOrder(run)) return [];
  const where = `run ${run.run.name}`;
  const faults = [...placeFaults(run), ...feederFaults(run)];
  const outcomes: Outcome[] = [];
  if (faults.length > 0) {
    const ids = [...new Set(faults.map((f) => f.id))];
    const marks = faults.map((f) => ({ fixtureId: f.id, column: f.column }));
    const message = sayBrokenChain({ run: run.run.name, faults: faults.map((f) => f.words) });
    outcomes.push(plainOutcome('breach', '', ids, marks, message));
  }
  const behindUntagged = isPlainChain(run)
    ? []
    : statedLinks(run).filter((link) => expectedFeeder(run, link.index) === null);
  if (behindUntagged.length > 0) {
    const ids = behindUntagged.map((link) => link.facts.fixture.id);
    const need = `the tag of the fixture before ${listed(behindUntagged.map(linkLabel))}`;
    outcomes.push(
      notChecked('Broken chain', where, need, ids, marksOf(ids, 'fedFrom'), 'untagged'),
    );
  }
  const placeless = idsOf(run.facts.filter((f) => f.fixture.place === null));
  if (placeless.length > 0) {
    outcomes.push(
      notChecked(
        'Broken chain',
        where,
        'the place of every fixture',
        placeless,
        marksOf(placeless, 'place'),
      ),
    );
  }
  return outcomes;
}

/** Places 1 to n without gap or repeat, and feeders that follow them. */
export const brokenChain: RunLimit = {
  id: 'broken-chain',
  title: 'Broken chain',
  basis: 'Build of a run: one head box, one chain, one terminator.',
  needs: 'place of every fixture',
  scope: 'run',
  check,
  remedies: () => [
    'Number the places 1, 2, 3 … along the cable, and let each fixture be fed from the one before it.',
  ],
};
