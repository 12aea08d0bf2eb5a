import type { FixtureFacts } from '../../solve/fixture-facts.ts';
import type { RunResult } from '../../solve/run-result.ts';
import { labelOf } from '../outcome.ts';

/** How a row says that the head box feeds it. */
const headBox = /^(?:head\s*)?box$|^hb$|^head$/i;

const boxKey = '\u0000box';

/** The key of what feeds a fixture; the head box is one of them. */
export function feederKey(fedFrom: string): string {
  const text = fedFrom.trim();
  return headBox.test(text) ? boxKey : text.toLowerCase();
}

export function feederName(key: string, written: string): string {
  return key === boxKey ? 'the head box' : written.trim();
}

export interface Link {
  readonly index: number;
  readonly facts: FixtureFacts;
  readonly key: string;
  readonly written: string;
}

interface Chain {
  readonly run: RunResult;
  /** Every row is fed from the one before it, the first from the head box, and no feeder is named twice. */
  readonly plain: boolean;
  readonly links: readonly Link[];
  readonly branches: readonly (readonly Link[])[];
}

/** The run last looked at: two limits ask of the same run, and results are never changed. */
let last: Chain | null = null;
/** Feeder keys of that run; kept so that a run where nothing is wrong takes no room. */
const feeders = new Set<string>();

function chainOf(run: RunResult): Chain {
  if (last?.run !== run) {
    const plain = isPlain(run);
    const links = plain ? [] : linksOf(run);
    last = { run, plain, links, branches: branchesOf(links) };
  }
  return last;
}

function isPlain({ facts }: RunResult): boolean {
  feeders.clear();
  let before: string | null = null;
  for (let index = 0; index < facts.length; index += 1) {
    const { fedFrom, tag } = (facts[index] as FixtureFacts).fixture;
    if (fedFrom === null) return false;
    const key = feederKey(fedFrom);
    if (index === 0 || key === boxKey) {
      if (index > 0 || key !== boxKey) return false;
    } else if (before === null || (fedFrom !== before && key !== before.trim().toLowerCase())) {
      return false;
    }
    feeders.add(key);
    before = tag;
  }
  return feeders.size === facts.length;
}

function linksOf(run: RunResult): Link[] {
  return run.facts.flatMap((facts, index): Link[] => {
    const written = facts.fixture.fedFrom;
    return written === null ? [] : [{ index, facts, key: feederKey(written), written }];
  });
}

function branchesOf(links: readonly Link[]): Link[][] {
  const byFeeder = new Map<string, Link[]>();
  for (const link of links) {
    const fed = byFeeder.get(link.key);
    if (fed === undefined) byFeeder.set(link.key, [link]);
    else fed.push(link);
  }
  return [...byFeeder.values()].filter((fed) => fed.length > 1);
}

/** Whether what the rows say is the chain that the places ask for: no branch, no odd feeder, none silent. */
export function isPlainChain(run: RunResult): boolean {
  return chainOf(run).plain;
}

/** What every row of a run that is not a plain chain says of its feeder, in order of place; rows that say nothing are left out. */
export function statedLinks(run: RunResult): readonly Link[] {
  return chainOf(run).links;
}

/** Rows that name one feeder twice or more: a branch. */
export function branches(run: RunResult): readonly (readonly Link[])[] {
  return chainOf(run).branches;
}

/** The feeder key that place order asks of the fixture at this index. */
export function expectedFeeder(run: RunResult, index: number): string | null {
  if (index === 0) return boxKey;
  const tag = run.facts[index - 1]?.fixture.tag ?? null;
  return tag === null ? null : tag.trim().toLowerCase();
}

export function linkLabel(link: Link): string {
  return labelOf(link.facts);
}
