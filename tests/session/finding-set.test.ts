import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Finding } from '../../src-shared/limits/finding.ts';
import { limitIds, severities } from '../../src-shared/limits/limit.ts';
import { FindingSet } from '../../src-shared/session/finding-set.ts';
import { seededRandom } from '../electrical/random-runs.ts';
import { pick, type Random, whole } from '../laws/random-project.ts';

const runs = ['A', 'B', 'C'];

/** Few ids, so that some stand twice; the message tells findings apart that are alike otherwise. */
function randomFinding(random: Random, scope: string): Finding {
  return {
    id: `id${whole(random, 1, 40)}`,
    limit: pick(random, limitIds),
    title: '',
    scope,
    severity: pick(random, severities),
    run: pick(random, [...runs, 'gone', null]),
    fixtureIds: [],
    marks: [],
    value: null,
    allowed: null,
    unit: null,
    level: null,
    message: String(random()),
    basis: '',
  };
}

test('findings taken one scope after the other stand as if all had been sorted at once', () => {
  fc.assert(
    fc.property(fc.integer(), (seed) => {
      const random = seededRandom(seed);
      const merged = new FindingSet();
      const order = [...runs];
      const last = new Map<string, readonly Finding[]>();
      for (let step = 0; step < 30; step += 1) {
        const scope = `scope${whole(random, 1, 8)}`;
        const kept = last.get(scope) ?? [];
        const most = random() < 0.1 ? 90 : 4;
        const fresh = Array.from({ length: whole(random, 0, most) }, () =>
          randomFinding(random, scope),
        );
        // Often the same findings in other words, as after most edits.
        const now = random() < 0.4 ? kept.map((f) => ({ ...f, message: String(random()) })) : fresh;
        merged.put(scope, now);
        last.set(scope, now);
        if (random() < 0.1) {
          order.reverse();
          merged.forgetOrder();
        }
        const anew = new FindingSet();
        for (const [name, findings] of last) anew.put(name, findings);
        expect(merged.list(order)).toEqual(anew.list(order));
      }
    }),
    { seed: 401, numRuns: 150 },
  );
});
