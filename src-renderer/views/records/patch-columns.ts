import type { AddressSlot } from '../../../src-shared/dmx/address-plan.ts';
import type { Finding } from '../../../src-shared/limits/finding.ts';
import type { EngineSession } from '../../../src-shared/session/engine-session.ts';
import type { FixtureFacts } from '../../../src-shared/solve/fixture-facts.ts';
import type { RecordColumn } from '../../grid/record-columns.ts';
import { findings } from '../../state/document-store.ts';

export interface PatchRow {
  readonly facts: FixtureFacts;
  readonly slot: AddressSlot;
  readonly finding: Finding | null;
}

const dataLimits = new Set(['two-universes', 'address-overlap', 'past-512', 'footprint-unknown']);
const last = Number.POSITIVE_INFINITY;

/** Fixtures in order of universe and start address; those without stand last. */
export function patchRows(session: EngineSession): readonly PatchRow[] {
  const found = new Map<string, Finding>();
  for (const finding of findings.value) {
    if (!dataLimits.has(finding.limit)) continue;
    for (const id of finding.fixtureIds) if (!found.has(id)) found.set(id, finding);
  }
  const rows = session.project.fixtures.flatMap(({ id }): PatchRow[] => {
    const facts = session.factsOf(id);
    const slot = session.plan.get(id);
    if (facts === null || slot === undefined) return [];
    return [{ facts, slot, finding: found.get(id) ?? null }];
  });
  const key = (row: PatchRow) => [row.slot.universe ?? last, row.slot.address ?? last] as const;
  return rows.sort((a, b) => {
    const [universeA, addressA] = key(a);
    const [universeB, addressB] = key(b);
    if (universeA !== universeB) return universeA < universeB ? -1 : 1;
    return addressA === addressB ? 0 : addressA < addressB ? -1 : 1;
  });
}

const number = (value: number | null) => (value === null ? '' : String(value));

export const patchColumns: readonly RecordColumn<PatchRow>[] = [
  {
    id: 'universe',
    title: 'Universe',
    width: 78,
    figures: true,
    text: ({ slot }) => number(slot.universe),
    help: 'Counted from 1.',
  },
  {
    id: 'first',
    title: 'First',
    width: 64,
    figures: true,
    text: ({ slot }) => number(slot.address),
  },
  {
    id: 'last',
    title: 'Last',
    width: 64,
    figures: true,
    text: ({ slot }) => number(slot.lastAddress),
  },
  {
    id: 'slots',
    title: 'Slots',
    width: 60,
    figures: true,
    text: ({ facts }) => number(facts.footprint),
  },
  { id: 'tag', title: 'Tag', width: 90, text: ({ facts }) => facts.fixture.tag ?? '' },
  { id: 'type', title: 'Type', width: 80, text: ({ facts }) => facts.fixture.type ?? '' },
  { id: 'mode', title: 'Mode', width: 80, text: ({ facts }) => facts.fixture.mode ?? '' },
  { id: 'run', title: 'Run', width: 70, text: ({ facts }) => facts.fixture.run ?? '' },
  {
    id: 'place',
    title: 'Place',
    width: 60,
    figures: true,
    text: ({ facts }) => number(facts.fixture.place),
  },
  { id: 'share', title: 'Share set', width: 90, text: ({ facts }) => facts.fixture.shareSet ?? '' },
  {
    id: 'from',
    title: 'Given by',
    width: 90,
    text: ({ slot }) => (slot.address === null ? '' : slot.proposed ? 'proposed' : 'schedule'),
  },
  {
    id: 'finding',
    title: 'Finding',
    width: 200,
    flex: 1,
    text: ({ finding }) => finding?.title ?? '',
    mark: ({ finding }) => finding?.severity ?? null,
  },
];
