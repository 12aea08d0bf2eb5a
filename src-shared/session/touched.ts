/** What a command touches: so that one edited cell recomputes its run and what hangs on it. */
import type { Change } from '../document/change.ts';
import type { FixtureField } from '../document/project.ts';

export interface Touched {
  /** Everything is to be made anew. */
  readonly all: boolean;
  /** Fixture ids whose record changed but not their run or place. */
  readonly fixtures: ReadonlySet<string>;
  /** Rows came, went or moved between runs or places. */
  readonly membership: boolean;
  /** Circuits or runs changed: which circuits have which runs may differ. */
  readonly grouping: boolean;
  readonly runs: ReadonlySet<string>;
  readonly circuits: ReadonlySet<string>;
  /** Addresses, or what shares them, may differ. */
  readonly addresses: boolean;
  /** Limits over the whole project may differ, addresses apart. */
  readonly project: boolean;
}

const addressFields: ReadonlySet<string> = new Set<FixtureField>([
  'universe',
  'address',
  'mode',
  'footprint',
  'type',
  'shareSet',
]);
const membershipFields: ReadonlySet<string> = new Set<FixtureField>(['run', 'place']);

/** Reads off a list of changes what must be looked at again. */
export function touchedBy(changes: readonly Change[]): Touched {
  const fixtures = new Set<string>();
  const runs = new Set<string>();
  const circuits = new Set<string>();
  let [all, membership, grouping, addresses, project] = [false, false, false, false, false];
  for (const change of changes) {
    if (change.kind === 'part') {
      if (change.part === 'settings') all = true;
      continue;
    }
    switch (change.table) {
      case 'fixtures':
        if (change.kind !== 'set') membership = true;
        else if (membershipFields.has(change.field)) membership = true;
        else {
          fixtures.add(change.key);
          if (addressFields.has(change.field)) addresses = true;
          if (change.field === 'tag') project = true;
        }
        break;
      case 'runs':
        grouping = true;
        if (change.kind === 'set') {
          if (change.field === 'name') all = true;
          runs.add(change.key);
        } else {
          // Fixtures may name a run that comes or goes: then they are on a run, or on none.
          project = true;
          const names =
            change.kind === 'remove' ? change.keys : change.records.map((run) => run.name);
          for (const name of names) runs.add(name);
        }
        break;
      case 'circuits':
        grouping = true;
        if (change.kind === 'set') circuits.add(change.key);
        break;
      default:
        all = true;
    }
  }
  return {
    all,
    fixtures,
    membership,
    grouping,
    runs,
    circuits,
    addresses: addresses || membership,
    project: project || membership,
  };
}
