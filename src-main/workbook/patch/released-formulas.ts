/** Groups of shared formulas whose first cell goes: the next one of the group states the formula. */
import type { MergedArea } from '../../../src-shared/document/source-workbook.ts';
import { moveFormula } from '../shared-formula.ts';
import { firstsOfGroups } from './formula-followers.ts';
import { areaText } from './references.ts';
import type { CellPatches } from './sheet-edit.ts';
import { cellKey, type SheetFormula, type SheetMap } from './sheet-map.ts';
import { attributeText, elementText } from './xml-write.ts';

function around(members: readonly SheetFormula[]): MergedArea {
  return {
    firstRow: Math.min(...members.map((m) => m.row)),
    lastRow: Math.max(...members.map((m) => m.row)),
    firstColumn: Math.min(...members.map((m) => m.column)),
    lastColumn: Math.max(...members.map((m) => m.column)),
  };
}

/** Adds the formula to the cell that is to state it from now on. `lost`: keys of cells without theirs. */
export function moveSharedFormulas(
  map: SheetMap,
  lost: ReadonlySet<number>,
  patches: CellPatches,
): void {
  const firsts = firstsOfGroups(map);
  const members = new Map<string, SheetFormula[]>();
  for (const formula of map.formulas.values()) {
    if (formula.group === null || lost.has(cellKey(formula.row, formula.column))) continue;
    const list = members.get(formula.group);
    if (list === undefined) members.set(formula.group, [formula]);
    else list.push(formula);
  }
  for (const [group, first] of firsts) {
    if (!lost.has(cellKey(first.row, first.column))) continue;
    const left = members.get(group) ?? [];
    const [next] = left;
    if (next === undefined) continue;
    const text = elementText(moveFormula(first.text, first, next));
    const ref = areaText(around(left));
    const p = map.prefix;
    const formulaXml = `<${p}f t="shared" ref="${ref}" si="${attributeText(group)}">${text}</${p}f>`;
    patches.add(next.row, next.column, { formulaXml });
  }
}
