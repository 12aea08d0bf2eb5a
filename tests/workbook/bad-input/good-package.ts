import { strToU8 } from 'fflate';
import { type PackageText, packageBytes, packageParts } from '../package-builder.ts';
import { type RawEnd, type RawEntry, rawZip } from './raw-zip.ts';

/** A small workbook with a schedule of three fixtures; each bad file is this one with a fault. */

const texts = ['Tag', 'Type', 'Run', 'Load W', 'Span m', 'D-1', 'D-2', 'D-3', 'T1', 'R1'];

/** Shared strings of the small schedule. */
export const goodStrings = texts.map((text) => `<si><t>${text}</t></si>`).join('');

const shared = (text: string, style = 0) =>
  `<c t="s"${style === 0 ? '' : ` s="${style}"`}><v>${texts.indexOf(text)}</v></c>`;

/** One fixture's row; `more` goes behind its cells. */
export function fixtureRow(number: number, tag: string, more = ''): string {
  const cells = [shared(tag), shared('T1'), shared('R1'), '<c><v>12.5</v></c>', '<c><v>2</v></c>'];
  return `<row r="${number}">${cells.join('')}${more}</row>`;
}

/** Header and three fixtures in rows 1 to 4. */
export const goodRows = `<row r="1">${texts
  .slice(0, 5)
  .map((text) => shared(text))
  .join('')}</row>${['D-1', 'D-2', 'D-3'].map((tag, at) => fixtureRow(at + 2, tag)).join('')}`;

const good: PackageText = { rows: goodRows, strings: goodStrings };

/** The small schedule with changes. */
export function schedule(changes: PackageText = {}): Uint8Array {
  return packageBytes({ ...good, ...changes });
}

/** The small schedule with parts added, replaced or (undefined) taken out. */
export function withParts(parts: PackageText['parts']): Uint8Array {
  return schedule({ parts: parts ?? {} });
}

export const SHEET = 'xl/worksheets/sheet1.xml';
export const SHEET_LINKS = 'xl/worksheets/_rels/sheet1.xml.rels';
export const WORKBOOK = 'xl/workbook.xml';
export const WORKBOOK_LINKS = 'xl/_rels/workbook.xml.rels';
export const STRINGS = 'xl/sharedStrings.xml';

/** The text of a part of the small schedule. */
export function partText(name: string, changes: PackageText = {}): string {
  return new TextDecoder().decode(packageParts({ ...good, ...changes }).get(name));
}

/** The small schedule as raw entries. */
export function rawEntries(changes: PackageText = {}): RawEntry[] {
  const parts = packageParts({ ...good, ...changes });
  return [...parts].map(([name, content]) => ({ name, content }));
}

/** The small schedule with one raw entry lying. */
export function lying(name: string, lie: Partial<RawEntry>, end: RawEnd = {}): Uint8Array {
  const entries = rawEntries();
  if (!entries.some((entry) => entry.name === name)) throw new Error(`no part ${name}`);
  return rawZip(
    entries.map((entry) => (entry.name === name ? { ...entry, ...lie } : entry)),
    end,
  );
}

/** The small schedule with raw entries added. */
export function adding(...names: readonly string[]): Uint8Array {
  return rawZip([...rawEntries(), ...names.map((name) => ({ name, content: strToU8('<a/>') }))]);
}

/** Bytes without rhyme, the same on each run (a linear congruential generator). */
export function noise(length: number): Uint8Array {
  const bytes = new Uint8Array(length);
  let state = 20_240_229;
  for (let at = 0; at < length; at++) {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    bytes[at] = state >>> 24;
  }
  return bytes;
}
