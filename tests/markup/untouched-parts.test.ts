/**
 * Part by part: what a marked-up workbook has in common with the engineer's. The containers are taken
 * apart by this folder's own reader of zip files (APPNOTE.TXT), never by the program's.
 */
import { describe, expect, it } from 'vitest';
import { tenEdits } from '../travel/ten-edits.ts';
import { bytesOf, markedUp, projectOf, workbooks } from './jobs.ts';
import { readZip } from './zip-reading.ts';

/** Parts that marking up may change; all others must stay byte for byte, as packed. */
const mayChange = [
  /^\[Content_Types\]\.xml$/,
  /^docProps\/app\.xml$/,
  /(^|\/)workbook[^/]*\.xml$/i,
  /(^|\/)(workbook|book)[^/]*\.xml\.rels$/i,
  /(^|\/)styles?[^/]*\.xml$/i,
  /(^|\/)calcChain\.xml$/,
  /sheets?\/[^/]*\.xml$/,
  /sheets?\/_rels\/[^/]*\.xml\.rels$/,
  /(^|\/)comments?[^/]*\.xml$/i,
  /\.vml$/,
  // The list of sheets, the schedule and their links of brackwell-quay, under names of its own.
  /^wb\/notes\.xml$/,
  /^wb\/(_rels\/)?book\.xml(\.rels)?$/,
  /^wb\/pages\/(_rels\/)?deck\.xml(\.rels)?$/,
];

const plain = (name: string) => name.replace(/^\//, '');

/** Parts of the engineer's package that differ, and those that are new. */
function compare(before: Uint8Array, after: Uint8Array) {
  const [was, is] = [readZip(before), readZip(after)];
  const now = new Map(is.entries.map((entry) => [entry.name, entry]));
  const changed: string[] = [];
  const gone: string[] = [];
  for (const entry of was.entries) {
    const found = now.get(entry.name);
    if (found === undefined) gone.push(plain(entry.name));
    else if (
      !entry.packed.equals(found.packed) ||
      !entry.localHeader.equals(found.localHeader) ||
      !entry.directoryRecord.equals(found.directoryRecord)
    ) {
      changed.push(plain(entry.name));
    }
  }
  const old = new Set(was.entries.map((entry) => entry.name));
  const added = is.entries.filter(({ name }) => !old.has(name)).map(({ name }) => plain(name));
  const order = is.entries.filter(({ name }) => old.has(name)).map(({ name }) => name);
  return { changed, gone, added, order, was, is };
}

describe.each([...workbooks.keys()])('%s', (name) => {
  const before = bytesOf(name);
  const project = projectOf(before, `${name}.xlsx`);

  it('keeps every part it need not touch, byte for byte as packed, in its place', async () => {
    const { bytes } = await markedUp(before, `${name}.xlsx`, project);
    const { changed, gone, added, order, was, is } = compare(before, bytes);
    expect(gone).toEqual([]);
    expect(changed.filter((part) => !mayChange.some((one) => one.test(part)))).toEqual([]);
    expect(changed.length).toBeGreaterThan(2);
    // One sheet part for each sheet that was read; the others stay as they are.
    const sheets = changed.filter((part) => /(sheets?|wb\/pages)\/[^/]*\.xml$/.test(part));
    expect(sheets.length).toBe(project.source?.sheets.length);
    expect(order).toEqual(was.entries.map((entry) => entry.name));
    expect(is.comment).toBe(was.comment);
    expect(
      added.filter((part) => !/^xl\/(worksheets|comments|drawings\/vml|styles)/.test(part)),
    ).toEqual([]);
  });

  it('changes no more parts for ten edits, but for sheets whose sums look at them', async () => {
    const { project: edited } = tenEdits(project);
    const { bytes } = await markedUp(before, `${name}.xlsx`, edited);
    const { changed } = compare(before, bytes);
    expect(changed.filter((part) => !mayChange.some((one) => one.test(part)))).toEqual([]);
  });

  it('gives the same bytes each time', async () => {
    const first = await markedUp(before, `${name}.xlsx`, project);
    const second = await markedUp(before, `${name}.xlsx`, project);
    expect(Buffer.compare(first.bytes, second.bytes)).toBe(0);
  });
});
