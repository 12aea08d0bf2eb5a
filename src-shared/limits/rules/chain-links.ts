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

interface Chain {
  readonly links: readonly Link[];
  readonly branches: readonly (readonly Link[])[];
}

/** Two limits ask this of a run; results are never changed, so it is read off once. */
const chains = new WeakMap<RunResult, Chain>();

function chainOf(run: RunResult): Chain {
  let chain = chains.get(run);
  if (chain === undefined) {
    const links = run.facts.flatMap((facts, index): Link[] => {
      const written = facts.fixture.fedFrom;
      return written === null ? [] : [{ index, facts, key: feederKey(written), written }];
    });
    const byFeeder = new Map<string, Link[]>();
    for (const link of links) {
      const fed = byFeeder.get(link.key);
      if (fed === undefined) byFeeder.set(link.key, [link]);
      else fed.push(link);
    }
    chain = { links, branches: [...byFeeder.values()].filter((fed) => fed.length > 1) };
    chains.set(run, chain);
  }
  return chain;
}

/** What every row of a run says of its feeder, in order of place; rows that say nothing are left out. */
export function statedLinks(run: RunResult): readonly Link[] {
  return chainOf(run).links;
}

/** Rows that name one feeder twice or more: a branch. */
export function branches(run: RunResult): readonly (readonly Link[])[] {
  return chainOf(run).branches;
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
