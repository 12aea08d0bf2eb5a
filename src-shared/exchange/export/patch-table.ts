import { slotsPerUniverse } from '../../dmx/slot-range.ts';
import type { Fixture, Project } from '../../document/project.ts';
import type { Finding } from '../../limits/finding.ts';
import type { LimitId } from '../../limits/limit.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { sheetNames } from '../sheet-names.ts';
import { type ExportCell, type ExportTable, numberColumn, textColumn } from './export-table.ts';
import type { FindingMarks } from './finding-marks.ts';

const dataLimits: ReadonlySet<LimitId> = new Set([
  'two-universes',
  'address-overlap',
  'past-512',
  'footprint-unknown',
]);

/** Unknown numbers sort last. */
const rank = (value: number | null): number => value ?? Number.POSITIVE_INFINITY;

/** Most universes named in the line above the header. */
const mostUniverses = 16;

function slotsUsed(project: Project, session: EngineSession): string {
  const used = new Map<number, Set<number>>();
  for (const { id } of project.fixtures) {
    const { universe = null, address = null, lastAddress = null } = session.plan.get(id) ?? {};
    if (universe === null || address === null || lastAddress === null) continue;
    const slots = used.get(universe) ?? new Set();
    used.set(universe, slots);
    for (let n = Math.max(1, address); n <= Math.min(lastAddress, slotsPerUniverse); n += 1)
      slots.add(n);
  }
  const universes = [...used].sort(([a], [b]) => a - b);
  const parts = universes
    .slice(0, mostUniverses)
    .map(([universe, slots]) => `universe ${universe}: ${slots.size}`);
  if (universes.length > mostUniverses) parts.push(`${universes.length - mostUniverses} more`);
  return parts.length === 0
    ? 'No addresses.'
    : `Slots used of ${slotsPerUniverse}: ${parts.join(', ')}.`;
}

/** Addresses as a programmer patches them: by universe and start address, those without last. */
export function patchTable(
  project: Project,
  session: EngineSession,
  marks: FindingMarks,
): ExportTable {
  const order = new Map<string, number>();
  for (const run of session.runs.values()) {
    run.facts.forEach(({ fixture }, index) => {
      order.set(fixture.id, index + 1);
    });
  }
  const slotOf = (fixture: Fixture) => session.plan.get(fixture.id);
  const fixtures = [...project.fixtures].sort((a, b) => {
    const [left, right] = [slotOf(a), slotOf(b)];
    const byUniverse = rank(left?.universe ?? null) - rank(right?.universe ?? null);
    const byAddress = rank(left?.address ?? null) - rank(right?.address ?? null);
    return (Number.isNaN(byUniverse) ? 0 : byUniverse) || (Number.isNaN(byAddress) ? 0 : byAddress);
  });
  const row = (fixture: Fixture): ExportCell[] => {
    const slot = slotOf(fixture);
    const findings = marks.ofRow(fixture.id).filter((f: Finding) => dataLimits.has(f.limit));
    const [worst] = findings;
    const first = slot?.address ?? null;
    return [
      slot?.universe ?? null,
      worst === undefined
        ? first
        : {
            value: first,
            severity: worst.severity,
            changed: false,
            note: marks.notesOf(findings),
          },
      slot?.lastAddress ?? null,
      fixture.tag,
      fixture.type,
      fixture.mode,
      session.factsOf(fixture.id)?.footprint ?? null,
      fixture.run,
      order.get(fixture.id) ?? null,
      fixture.shareSet,
      slot?.proposed === true ? 'proposed' : null,
      fixture.locks.some((lock) => lock === 'universe' || lock === 'address') ? 'locked' : null,
      null,
    ];
  };
  return {
    name: sheetNames.patch,
    lead: [
      `Universe base 1: the first universe is 1. ${slotsUsed(project, session)}`,
      'Proposed: not in the schedule as it came; nobody has taken it yet. Place 1 is nearest the head box.',
    ],
    columns: [
      numberColumn('Universe', 0),
      numberColumn('First', 0),
      numberColumn('Last', 0),
      textColumn('Tag'),
      textColumn('Type'),
      textColumn('Mode'),
      numberColumn('Slots', 0),
      textColumn('Run'),
      numberColumn('Place', 0),
      textColumn('Share set'),
      textColumn('Proposed?'),
      textColumn('Locked'),
      textColumn('RDM UID', { atLeast: 18 }),
    ],
    rows: fixtures.map(row),
  };
}
