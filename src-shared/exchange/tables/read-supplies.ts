/** Panels with their systems and voltages. */
import { blankSupply } from '../../document/blank.ts';
import type { Supply } from '../../document/project.ts';
import type { SourceSheet } from '../../document/source-workbook.ts';
import { told } from '../schedule/cell-reading.ts';
import { looseKey } from '../schedule/cell-text.ts';
import type { ReadingLog } from '../schedule/reading-log.ts';
import { TableReader } from './table-reader.ts';
import { cellOf, findTable, isTableNote, type TableSheet } from './table-sheet.ts';

export type SupplyField = 'name' | 'system' | 'phases' | 'lineToLine' | 'lineToNeutral';

const words = new Map<SupplyField, readonly string[]>([
  ['name', ['panel', 'panelboard', 'distribution board', 'db', 'board', 'panel name', 'supply', 'dist board']],
  ['system', ['system', 'system voltage', 'supply system', 'service', 'voltage', 'volts']],
  ['phases', ['phases', 'phase', 'ph', 'number of phases', 'no of phases']],
  ['lineToLine', ['volts l l', 'v l l', 'l l', 'volts ll', 'line to line', 'volts line to line', 'u l l', 'l l volts']],
  ['lineToNeutral', ['volts l n', 'v l n', 'l n', 'volts ln', 'line to neutral', 'volts line to neutral', 'u l n', 'l n volts']],
]); // biome-ignore format: a table

const namedSheets = [
  'supplies',
  'supply',
  'panels',
  'panel schedule',
  'distribution boards',
  'boards',
];

/** Finds the table of panels on a sheet; null when it holds none. */
export function findSuppliesTable(sheet: SourceSheet): TableSheet<SupplyField> | null {
  const table = findTable(sheet, words, 2);
  if (table === null) return null;
  const telling = table.columns.some((c) =>
    ['phases', 'lineToLine', 'lineToNeutral'].includes(c.field),
  );
  return telling || namedSheets.includes(looseKey(sheet.name)) ? table : null;
}

function readPhases(text: string): { value: 1 | 3 | null; refusal: string | null } {
  const word = text.toLowerCase();
  if (/^(?:3(?!\d)|three)/u.test(word)) return { value: 3, refusal: null };
  if (/^(?:1(?!\d)|single|one)/u.test(word)) return { value: 1, refusal: null };
  return { value: null, refusal: 'phases are 1 or 3' };
}

/** `208Y/120`, `400Y/230`: both voltages of a three-phase system; null when the text is none. */
function voltagesOf(system: string | null): { lineToLineV: number; lineToNeutralV: number } | null {
  const found = /\b(\d{3})\s*V?\s*[YyΔ]?\s*\/\s*(\d{3})\b/u.exec(system ?? '');
  if (found === null) return null;
  const [high, low] = [Number(found[1]), Number(found[2])].sort((a, b) => b - a);
  if (high === undefined || low === undefined) return null;
  return Math.abs(high / low - Math.sqrt(3)) < 0.06
    ? { lineToLineV: high, lineToNeutralV: low }
    : null;
}

/** All panels in order; one named twice keeps its first row. */
export function readSupplies(
  tables: readonly TableSheet<SupplyField>[],
  log: ReadingLog,
): Supply[] {
  const byKey = new Map<string, Supply>();
  for (const table of tables) {
    const reader = new TableReader(table, log);
    const hasVolts = table.columns.some(
      (c) => c.field === 'lineToLine' || c.field === 'lineToNeutral',
    );
    for (const row of table.rows) {
      const name = reader.text(row, 'name', 'panel');
      if (cellOf(table, row, 'name') === undefined) reader.tellNameless(row, 'panel');
      if (name === null || isTableNote(name) || reader.isStruck(row)) continue;
      if (byKey.has(looseKey(name))) {
        const cell = cellOf(table, row, 'name');
        const note = 'the panel stands twice: its first row holds';
        if (cell !== undefined) reader.tell(row, cell, 'panel', told(name, 'guess', note));
        continue;
      }
      const system = reader.text(row, 'system');
      const derived = hasVolts ? null : voltagesOf(system);
      const cell = cellOf(table, row, 'system');
      if (derived !== null && cell !== undefined) {
        const note = `read as ${derived.lineToLineV} V line to line, ${derived.lineToNeutralV} V line to neutral`;
        reader.tell(row, cell, 'supply', told(system, 'likely', note));
      }
      byKey.set(looseKey(name), {
        ...blankSupply(name),
        system,
        phases: reader.parsed(row, 'phases', null, readPhases),
        lineToLineV:
          reader.quantity(row, 'lineToLine', 'voltage', 'V', 'supply') ??
          derived?.lineToLineV ??
          null,
        lineToNeutralV:
          reader.quantity(row, 'lineToNeutral', 'voltage', 'V', 'supply') ??
          derived?.lineToNeutralV ??
          null,
      });
    }
  }
  return [...byKey.values()];
}
