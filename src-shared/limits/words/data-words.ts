/** Sentences of the data limits and of the chain. */
import { counted, listed } from './shared-words.ts';

export function sayTwoUniverses(o: {
  run: string;
  universes: readonly number[];
  own: number;
  strays: readonly string[];
}): string {
  return `Run on ${counted(o.universes.length, 'universe')}, run ${o.run}. Universes ${listed(o.universes.map(String))}; one data line carries one. Most of the run is in universe ${o.own}; ${listed(o.strays)} ${o.strays.length === 1 ? 'is' : 'are'} not.`;
}

export function sayOverlap(o: {
  universe: number;
  /** The first of them, in words. */
  pairs: readonly string[];
  count: number;
  slots: number;
}): string {
  const more = o.count - o.pairs.length;
  const pairs = more > 0 ? `${o.pairs.join(', ')} and ${more} more` : listed(o.pairs, o.count);
  return `Addresses overlap, universe ${o.universe}. ${counted(o.count, 'pair')} of fixtures ${o.count === 1 ? 'shares' : 'share'} ${counted(o.slots, 'slot')} in all: ${pairs}.`;
}

export function sayPast512(o: {
  tag: string;
  universe: number | null;
  first: number;
  last: number;
  others: readonly string[];
}): string {
  const also = o.others.length === 0 ? '' : ` Likewise ${listed(o.others)}.`;
  const where = o.universe === null ? '' : ` of universe ${o.universe}`;
  return o.first < 1 || o.first > 512
    ? `Start address out of range, ${o.tag}. Start ${o.first}${where}; a universe has slots 1 to 512.${also}`
    : `Past slot 512, ${o.tag}. It takes slots ${o.first} to ${o.last}${where}; a universe ends at 512. Over by ${counted(o.last - 512, 'slot')}.${also}`;
}

export function sayFootprintUnknown(o: {
  type: string;
  mode: string;
  modes: readonly string[];
  tags: readonly string[];
}): string {
  return `Mode not of this type, type ${o.type}. ${listed(o.tags)} ${o.tags.length === 1 ? 'is' : 'are'} set to mode ${o.mode}; the type has ${listed(o.modes)}. The footprint is not known.`;
}

export function sayUnitLoads(o: {
  where: string;
  loads: number;
  sender: number;
  allowed: number;
  count: number;
  broken: boolean;
}): string {
  const head = o.broken ? 'Too many unit loads' : 'Unit loads near the limit';
  return `${head}, ${o.where}. ${round(o.loads)} unit loads from ${counted(o.count, 'fixture')} and ${o.sender} of the sender make ${round(o.loads + o.sender)}; one data output drives ${o.allowed}.`;
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000;
}

export function sayBranch(o: { run: string; feeder: string; fed: readonly string[] }): string {
  return `Branch, run ${o.run}. ${listed(o.fed)} are said to be fed from ${o.feeder}; a run is one chain, and a tap has one way out.`;
}

export function sayBrokenChain(o: { run: string; faults: readonly string[] }): string {
  return `Chain is not whole, run ${o.run}. ${o.faults.slice(0, 6).join('; ')}${o.faults.length > 6 ? `; and ${o.faults.length - 6} more` : ''}.`;
}

export function sayDuplicateTag(o: { tag: string; rows: readonly string[] }): string {
  return `Tag stands more than once, ${o.tag}. ${listed(o.rows)}. A tag names one fixture; patch and wiring would go to the wrong one.`;
}

export function sayRunPast512(run: string, slots: number): string {
  return `Run fits no universe, run ${run}. Its fixtures take ${slots} slots; a universe has 512, and one data line carries one universe. No addresses are proposed for it.`;
}
