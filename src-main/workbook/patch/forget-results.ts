import type { PackageEdit } from './package-edit.ts';
import { CellPatches, rowSplices } from './sheet-edit.ts';
import type { SheetMap } from './sheet-map.ts';
import { splice } from './xml-write.ts';

/** Leaves out the stored results of formulas on a sheet that has no marks; gives their number. */
export function forgetResults(edit: PackageEdit, map: SheetMap, keys: ReadonlySet<number>): number {
  const patches = new CellPatches();
  for (const key of keys) {
    const formula = map.formulas.get(key);
    if (formula !== undefined) patches.add(formula.row, formula.column, { formula: 'forget' });
  }
  const change = { dropped: new Set<number>(), droppedFrom: 0, restored: new Map() };
  edit.put(map.part, splice(map.text, rowSplices(map, { cells: patches.rows, ...change })));
  return keys.size;
}
