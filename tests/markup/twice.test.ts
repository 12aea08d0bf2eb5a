/** A file of ours that comes back: nothing of ours twice, nothing of the engineer's touched. */
import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { writeMarkedUpWorkbook } from '../../src-main/workbook/write-workbook.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { bytesOf, markedUp, projectOf, readBytes, workbooks } from './jobs.ts';
import { edited, markSmall, notesOf, readSmall, smallBook, valueAt } from './small-book.ts';
import { readZip } from './zip-reading.ts';

/** Sheets with their last columns, headers of ours among them. */
function shape(bytes: Uint8Array) {
  return readBytes(bytes, 'x.xlsx').sheets.map(({ name, rows, hidden }) => ({
    name,
    hidden,
    columns: Math.max(0, ...rows.flatMap((row) => row.cells.map(({ column }) => column))),
    ids: rows.flatMap((r) => r.cells.filter(({ text }) => text === 'Runledger id')).length,
  }));
}

const said = (project: Project) =>
  project.fixtures.map(({ origin: _origin, alsoFrom: _also, ...fixture }) => fixture);

describe.each([...workbooks.keys()])('%s', (name) => {
  it('comes back as it was, and a second time with no more sheets, columns or parts', async () => {
    const original = bytesOf(name);
    const project = projectOf(original, `${name}.xlsx`);
    const once = await markedUp(original, `${name}.xlsx`, project);
    const back = projectOf(once.bytes, `${name}.xlsx`);
    expect(said(back)).toEqual(said(project));
    const twice = await markedUp(once.bytes, `${name}.xlsx`, back);
    expect(shape(twice.bytes)).toEqual(shape(once.bytes));
    const [first, second] = [once, twice].map(({ bytes }) => readZip(bytes).entries);
    expect(second?.length).toBe(first?.length);
    // Parts no export has touched are those of the engineer's own file, as packed.
    const own = new Map(readZip(original).entries.map((entry) => [entry.name, entry.packed]));
    const untouched = (first ?? []).filter((e) => own.get(e.name)?.equals(e.packed) === true);
    const now = new Map(second?.map((entry) => [entry.name, entry.packed]));
    for (const entry of untouched) expect(now.get(entry.name)?.equals(entry.packed)).toBe(true);
    expect(said(projectOf(twice.bytes, `${name}.xlsx`))).toEqual(said(project));
  });
});

describe('marks of an earlier export', () => {
  const styles =
    '<fonts count="1"><font><sz val="10"/><name val="Arial"/></font></fonts><fills count="3"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill><fill><patternFill patternType="solid"><fgColor rgb="FFFFFF00"/><bgColor indexed="64"/></patternFill></fill></fills><borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders><cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="2"><xf xfId="0"/><xf fillId="2" xfId="0" applyFill="1"/></cellXfs>';
  const yellow = (tag: string) => ({
    xml: `<is><t>${tag}</t></is>`,
    attributes: 't="inlineStr" s="1"',
  });
  // The same tag twice is a finding at both cells.
  const book = smallBook(
    [
      ['Tag', 'Type', 'Run', 'Place'],
      [yellow('A-01'), 'T1', 'R1', 1],
      [yellow('A-01'), 'T1', 'R1', 2],
    ],
    { styles },
  );

  it('go when the finding goes, and the look before comes back', async () => {
    const { bytes, before } = readSmall(book);
    const once = await markSmall(bytes, before);
    const marked = once.cells.get('A2')?.attributes.s;
    expect(marked).not.toBe('1');
    expect(notesOf(once).get('A2')).toContain('B breach: Duplicate tag');
    const back = projectOf(once.bytes, 'plan.xlsx');
    const id = back.fixtures[1]?.id ?? '';
    const { fixtures } = back;
    const fixed = {
      ...back,
      fixtures: fixtures.map((f) => (f.id === id ? { ...f, tag: 'A-02' } : f)),
    };
    const twice = await markSmall(once.bytes, fixed);
    expect(valueAt(twice, 'A3')).toBe('A-02');
    expect(twice.cells.get('A2')?.attributes.s).toBe('1');
    expect(notesOf(twice).get('A2')).toBeUndefined();
    expect(notesOf(twice).get('A3')).toContain('had: A-01');
  });

  it('do not add up: the same marks a second time make no new styles', async () => {
    const once = await markSmall(book, readSmall(book).before);
    const twice = await markSmall(once.bytes, projectOf(once.bytes, 'plan.xlsx'));
    expect(twice.parts.get('xl/styles.xml')).toBe(once.parts.get('xl/styles.xml'));
    expect(twice.cells.get('A2')?.attributes.s).toBe(once.cells.get('A2')?.attributes.s);
  });
});

it('an edited file that came back has our columns where they stood', async () => {
  const { bytes, before } = readSmall(smallBook());
  const once = await markSmall(bytes, before);
  const back = projectOf(once.bytes, 'plan.xlsx');
  const twice = await markSmall(once.bytes, edited(back, 'A-02', 'load', 41));
  expect(valueAt(twice, 'F3')).toBe('41');
  const headers = ({ cells }: typeof once) => [...cells.keys()].filter((k) => /^[A-Z]+1$/.test(k));
  expect(headers(twice)).toEqual(headers(once));
});

it('a column the engineer has put behind ours stays, and ours go behind it only if they must', async () => {
  const { bytes, before } = readSmall(smallBook());
  const once = await markSmall(bytes, before);
  const last = [...once.cells.keys()].filter((key) => /^[A-Z]+1$/.test(key)).at(-1) ?? '';
  const next = last.replace(/[A-Z]1$/, (end) => `${String.fromCharCode(end.charCodeAt(0) + 1)}1`);
  const parts: Record<string, Uint8Array> = {};
  for (const { name, content } of readZip(once.bytes).entries) parts[name] = content;
  const part = 'xl/worksheets/sheet1.xml';
  const cell = `<c r="${next}" t="inlineStr"><is><t>Their own</t></is></c>`;
  const text = (once.parts.get(part) ?? '').replace('</row>', `${cell}</row>`);
  const changed = zipSync({ ...parts, [part]: strToU8(text) });
  const twice = await markSmall(changed, projectOf(changed, 'plan.xlsx'));
  expect(valueAt(twice, next)).toBe('Their own');
  expect(valueAt(twice, last)).toBe('Runledger id');
  expect(
    [...twice.cells.values()].filter((c) => JSON.stringify(c).includes('Runledger id')),
  ).toHaveLength(1);
});

it('a whole workbook of ours that comes back is marked up in place, nothing of it twice', async () => {
  const demo = bytesOf('../../src-main/demo/foxglove-roundhouse');
  const project = projectOf(demo, 'demo.xlsx');
  const whole = await writeMarkedUpWorkbook(project, { date: '2031-05-04' });
  const back = projectOf(whole, 'demo.xlsx');
  const marked = await markedUp(whole, 'demo.xlsx', back);
  const visible = (bytes: Uint8Array) => shape(bytes).filter(({ hidden }) => !hidden);
  expect(visible(marked.bytes)).toEqual(visible(whole));
  expect(said(projectOf(marked.bytes, 'demo.xlsx'))).toEqual(said(project));
});
