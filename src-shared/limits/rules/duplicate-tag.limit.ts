import type { FixtureFacts } from '../../solve/fixture-facts.ts';
import { nameKey } from '../../solve/fixture-facts.ts';
import type { LimitContext, Outcome, ProjectLimit } from '../limit.ts';
import { idsOf, marksOf, notChecked, plainOutcome } from '../outcome.ts';
import { sayDuplicateTag } from '../words/data-words.ts';

function whereOf({ fixture }: FixtureFacts): string {
  const run = fixture.run === null ? 'no run' : `run ${fixture.run}`;
  return fixture.origin === null ? run : `row ${fixture.origin.row} (${run})`;
}

/** Whether every fixture has a tag that no other has. */
function isDistinct(all: readonly FixtureFacts[]): boolean {
  const keys = new Set<string>();
  for (const { fixture } of all) {
    if (fixture.tag === null) return false;
    keys.add(nameKey(fixture.tag));
  }
  return keys.size === all.length;
}

function check(context: LimitContext): Outcome[] {
  if (isDistinct(context.allFacts())) return [];
  const byTag = new Map<string, FixtureFacts[]>();
  const tagless: FixtureFacts[] = [];
  for (const facts of context.allFacts()) {
    const { tag } = facts.fixture;
    if (tag === null) {
      tagless.push(facts);
      continue;
    }
    const key = nameKey(tag);
    const same = byTag.get(key);
    if (same === undefined) byTag.set(key, [facts]);
    else same.push(facts);
  }
  const outcomes: Outcome[] = [];
  for (const [key, same] of byTag) {
    if (same.length < 2) continue;
    const ids = idsOf(same);
    const message = sayDuplicateTag({ tag: same[0]?.fixture.tag ?? key, rows: same.map(whereOf) });
    outcomes.push({
      ...plainOutcome('breach', key, ids, marksOf(ids, 'tag'), message),
      value: same.length,
      allowed: 1,
    });
  }
  if (tagless.length > 0) {
    const ids = idsOf(tagless);
    const need = `a tag on ${ids.length === 1 ? '1 fixture' : `${ids.length} fixtures`}`;
    outcomes.push(notChecked('Duplicate tag', '', need, ids, marksOf(ids, 'tag')));
  }
  return outcomes;
}

/** A tag names one fixture. */
export const duplicateTag: ProjectLimit = {
  id: 'duplicate-tag',
  title: 'Duplicate tag',
  basis: 'Common practice, no source: drawings, patch and wiring go by tag.',
  needs: 'a tag on every fixture',
  scope: 'project',
  check,
  remedies: () => ['Give each fixture a tag of its own, or remove the row that was copied.'],
};
