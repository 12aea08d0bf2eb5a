import type { Project } from '../../document/project.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { projectTakeoff } from '../../session/project-takeoff.ts';
import { lengthInUnit } from '../../units/length.ts';
import { sheetNames } from '../sheet-names.ts';
import { type ExportCell, type ExportTable, numberColumn, textColumn } from './export-table.ts';

/** What to buy, counted over all runs, and the conductors to terminate by hand. */
export function takeoffTable(project: Project, session: EngineSession): ExportTable {
  const { items, terminations, uncountedSpans } = projectTakeoff(session);
  const unit = project.settings.displayUnit;
  const rows: ExportCell[][] = items.map(({ item, lengthM, quantity, spares }) => [
    item,
    lengthInUnit(lengthM, unit),
    quantity,
    spares,
    quantity + spares,
  ]);
  const loose = project.fixtures.filter((fixture) => fixture.run === null).length;
  const lead = ['Spares: 5 %, rounded up per item, at least one; common practice, no source.'];
  if (uncountedSpans > 0) {
    lead.push(`Not counted: the pieces of ${uncountedSpans} spans, which are not known.`);
  }
  if (loose > 0) lead.push(`Not counted: ${loose} fixtures that are on no run.`);
  return {
    name: sheetNames.takeoff,
    lead,
    columns: [
      textColumn('Item', { wrap: 52 }),
      numberColumn(`Length (${unit})`, 2),
      numberColumn('Quantity', 0),
      numberColumn('Spares', 0),
      numberColumn('Order', 0),
    ],
    rows: [
      ...rows,
      [
        'Conductors to terminate by hand, every fixture hard-wired',
        null,
        terminations.hardWired,
        null,
        null,
      ],
      [
        'Conductors to terminate by hand, as runs: at the head boxes only',
        null,
        terminations.asRuns,
        null,
        null,
      ],
    ],
  };
}
