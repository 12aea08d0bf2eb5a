import type { FixtureFacts } from '../../solve/fixture-facts.ts';
import type { RunResult } from '../../solve/run-result.ts';
import { labelOf } from '../outcome.ts';

/** How a row says that the head box feeds it. */
const headBox = /^(?:head\s*)?box$|^hb$|^head$/i;

/** The key of what feeds a fixture; the head box is one of them. */
export function feederKey(fedFrom: string): string {
  const text = fedFrom.trim();
  return headBox.test(text) ? '\u0000box' : text.toLowerCase();
}

export function feederName(key: string, written: string): string {
  return key === '\u0000box' ? 'the head box' : written.trim();
}

export interface Link {
  readonly index: number;
  readonly facts: FixtureFacts;
  readonly key: string;
  readonly written: string;
}

/** What every row of a run says of its feeder, in order of place; rows that say nothing are left out. */
export function statedLinks(run: RunResult): Link[] {
  return run.facts.flatMap((facts, index) => {
    const written = facts.fixture.fedFrom;
    return written === null ? [] : [{ index, facts, key: feederKey(written), written }];
  });
}

/** Rows that name one feeder twice or more: a branch. */
export function branches(run: RunResult): Link[][] {
  const byFeeder = new Map<string, Link[]>();
  for (const link of statedLinks(run)) {
    const links = byFeeder.get(link.key);
    if (links === undefined) byFeeder.set(link.key, [link]);
    else links.push(link);
  }
  return [...byFeeder.values()].filter((links) => links.length > 1);
}

/** The feeder key that place order asks of the fixture at this index. */
export function expectedFeeder(run: RunResult, index: number): string | null {
  if (index === 0) return '\u0000box';
  const tag = run.facts[index - 1]?.fixture.tag ?? null;
  return tag === null ? null : tag.trim().toLowerCase();
}

export function linkLabel(link: Link): string {
  return labelOf(link.facts);
}
