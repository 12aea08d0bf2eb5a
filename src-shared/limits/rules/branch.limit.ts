import type { RunResult } from '../../solve/run-result.ts';
import type { Outcome, RunLimit } from '../limit.ts';
import { idsOf, marksOf, notChecked, plainOutcome } from '../outcome.ts';
import { sayBranch } from '../words/data-words.ts';
import { branches, feederName, isPlainChain, linkLabel, statedLinks } from './chain-links.ts';

function check(run: RunResult): Outcome[] {
  if (isPlainChain(run)) return [];
  const stated = statedLinks(run);
  const outcomes = branches(run).map((links) => {
    const [first] = links;
    const feeder = feederName(first?.key ?? '', first?.written ?? '');
    const ids = links.map((link) => link.facts.fixture.id);
    const message = sayBranch({ run: run.run.name, feeder, fed: links.map(linkLabel) });
    return plainOutcome('stop', feeder, ids, marksOf(ids, 'fedFrom'), message);
  });
  const silent = run.facts.filter((f) => f.fixture.fedFrom === null);
  if (silent.length > 0 && run.facts.length > 1) {
    const ids = idsOf(silent);
    const which =
      stated.length === 0 ? 'what each fixture is fed from' : 'what these fixtures are fed from';
    outcomes.push(notChecked('Branch', `run ${run.run.name}`, which, ids, marksOf(ids, 'fedFrom')));
  }
  return outcomes;
}

/** Two fixtures fed from one tap, or two chains from one head box. */
export const branch: RunLimit = {
  id: 'branch',
  title: 'Branch',
  basis:
    'Listing of the line; ANSI E1.11 (EIA-485): one data pair, no passive branch. Verify in the adopted edition.',
  needs: 'what every fixture is fed from',
  scope: 'run',
  check,
  remedies: () => [
    'Give the chain in order of place, each fixture fed from the one before it, or make the second branch a run of its own.',
  ],
};
