/**
 * Edits go back in the sheet's own way of writing, and are read back as the same value. How start
 * addresses are written (`2.101`, `2/101`, counted through all universes, universes from 0) is common
 * practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { insertAfter } from '../../src-shared/document/edit-rows.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { projectOf } from './jobs.ts';
import {
  done,
  edited,
  markSmall,
  notesOf,
  readSmall,
  type SmallCell,
  smallBook,
  valueAt,
} from './small-book.ts';

const header = ['Tag', 'Type', 'Run', 'Place', 'Span m', 'Load W', 'DMX start'];

function fixtures(addresses: readonly SmallCell[], spans: readonly SmallCell[] = []) {
  return addresses.map((address, i): SmallCell[] => [
    `A-0${i + 1}`, 'T1', 'R1', i + 1, spans[i] ?? 2.5, 40, address,
  ]); // biome-ignore format: one row
}

async function roundTrip(bytes: Uint8Array, change: (project: Project) => Project) {
  const { before } = readSmall(bytes);
  const job = change(before);
  const out = await markSmall(bytes, job);
  const back = projectOf(out.bytes, 'plan.xlsx');
  const said = (project: Project) =>
    project.fixtures.map(({ origin: _o, alsoFrom: _a, ...fixture }) => fixture);
  expect(said(back)).toEqual(said(job));
  return out;
}

const moved = (project: Project) =>
  edited(edited(project, 'A-02', 'universe', 3), 'A-02', 'address', 7);

it.each([
  ['2/101', ['2/1', '2/10', '2/19'], '3/7'],
  ['2.101, three digits', ['2.001', '2.010', '2.019'], '3.007'],
  ['2.1 as text', ['2.1', '2.10', '2.19'], '3.7'],
  ['counted through all universes', [513, 522, 531], '1031'],
])('addresses written as %s', async (_, addresses, written) => {
  const out = await roundTrip(smallBook([header, ...fixtures(addresses)]), moved);
  expect(valueAt(out, 'G3')).toBe(written);
  expect(valueAt(out, 'G2')).toBe(String(addresses[0]));
  // The address says the universe: no column of ours for it.
  expect([...out.cells.keys()].some((key) => valueAt(out, key) === 'Universe')).toBe(false);
});

it('a plain address leaves the universe to a column of its own', async () => {
  const out = await roundTrip(smallBook([header, ...fixtures([1, 10, 19])]), moved);
  expect(valueAt(out, 'G3')).toBe('7');
  expect(valueAt(out, 'H1')).toBe('Universe');
  expect(valueAt(out, 'H3')).toBe('3');
});

it('universes counted from 0 stay counted from 0', async () => {
  const rows = fixtures([1, 10, 19]).map((row) => [...row, 0]);
  const out = await roundTrip(smallBook([[...header, 'Universe'], ...rows]), moved);
  expect(valueAt(out, 'H2')).toBe('0');
  expect(valueAt(out, 'H3')).toBe('2');
});

it('a universe without an address cannot be said by addresses counted through all of them', async () => {
  const { before } = readSmall(smallBook([header, ...fixtures([513, 522, null])]));
  const job = edited(before, 'A-03', 'universe', 4);
  const out = await markSmall(smallBook([header, ...fixtures([513, 522, null])]), job);
  expect([...notesOf(out).values()].join('\n')).toContain('Not written into this row: DMX start');
  const back = projectOf(out.bytes, 'plan.xlsx');
  expect(back.fixtures.map((f) => [f.universe, f.address])).toEqual(
    job.fixtures.map((f) => [f.universe, f.address]),
  );
});

describe('numbers', () => {
  it('with a decimal comma stay text with a decimal comma', async () => {
    const book = smallBook([header, ...fixtures([1, 10, 19], ['2,40', '2,75', '3,00'])]);
    const out = await roundTrip(book, (project) => edited(project, 'A-02', 'span', 1.25));
    expect(valueAt(out, 'E3')).toBe('1,25');
    expect(out.cells.get('E3')?.attributes.t).toBe('inlineStr');
  });

  it('are written in the unit of the header', async () => {
    const feet = ['Tag', 'Type', 'Run', 'Place', 'Span ft', 'Load kW', 'DMX start'];
    const rows = fixtures([1, 10, 19], [8, 9, 10]).map((row) => [
      ...row.slice(0, 5),
      0.04,
      row[6] ?? null,
    ]);
    const out = await roundTrip(smallBook([feet, ...rows]), (project) =>
      edited(edited(project, 'A-02', 'span', 3.048), 'A-03', 'load', 55),
    );
    expect(valueAt(out, 'E3')).toBe('10');
    expect(valueAt(out, 'F4')).toBe('0.055');
  });
});

describe('cells that mean what stands above', () => {
  const areas: readonly SmallCell[] = ['North', '"', '"', 'South', '"'];
  const rows = fixtures([1, 10, 19, 28, 37]).map((row, i) => [...row, areas[i] ?? null]);
  const book = smallBook([[...header, 'Area'], ...rows]);

  it('are written out where they would now mean something else', async () => {
    const out = await roundTrip(book, (project) => edited(project, 'A-02', 'area', 'East'));
    expect(['H2', 'H3', 'H4', 'H5', 'H6'].map((cell) => valueAt(out, cell))).toEqual([
      'North', 'East', 'North', 'South', '"',
    ]); // biome-ignore format: a list
  });

  it('stay where all of them change together', async () => {
    const out = await roundTrip(book, (project) =>
      ['A-01', 'A-02', 'A-03'].reduce((p, tag) => edited(p, tag, 'area', 'West'), project),
    );
    expect(['H2', 'H3', 'H4', 'H5'].map((cell) => valueAt(out, cell))).toEqual([
      'West', 'West', 'West', 'South',
    ]); // biome-ignore format: a list
  });

  const merged = smallBook(
    [[...header, 'Area'], ...rows.map((row, i) => [...row.slice(0, 7), i === 0 ? 'North' : null])],
    { after: '<mergeCells count="1"><mergeCell ref="H2:H6"/></mergeCells>' },
  );

  it('by a merged area: one fixture cannot leave it, so its value stands in our sheet', async () => {
    const out = await roundTrip(merged, (project) => edited(project, 'A-03', 'area', 'East'));
    expect(valueAt(out, 'H2')).toBe('North');
    expect([...notesOf(out).values()].join('\n')).toContain('Area (merged over rows 2 to 6)');
  });

  it('by a merged area: all together change it', async () => {
    const out = await roundTrip(merged, (project) =>
      project.fixtures.reduce((p, { tag }) => edited(p, tag ?? '', 'area', 'West'), project),
    );
    expect(valueAt(out, 'H2')).toBe('West');
    expect(notesOf(out).get('H2')).toContain('had: North');
    expect(out.remarks).toEqual([]);
  });
});

it('panel and circuit in one cell stay in one cell', async () => {
  const book = smallBook([
    [...header, 'Panel/Circuit'],
    ...fixtures([1, 10, 19]).map((row, i) => [...row, i === 0 ? 'LP-3/14,16' : null]),
  ]);
  const out = await roundTrip(book, (project) => edited(project, 'A-01', 'circuit', '18,20'));
  expect(valueAt(out, 'H2')).toBe('LP-3/18,20');
  expect([...out.cells.keys()].some((key) => valueAt(out, key) === 'Panel')).toBe(false);
});

describe('rows that stand for several fixtures', () => {
  const quantities = ['Area', 'Type', 'Qty', 'Run', 'Spacing m', 'Load W', 'Tag'];
  const book = smallBook([
    quantities,
    ['Span 1', 'F1', 3, 'R1', 2.5, 40, null],
    ['Span 2', 'F2', 1, 'R2', 3, 55, 'P-1'],
  ]);

  it('get summaries, and a sheet of ours has each fixture on a row of its own', async () => {
    const { before } = readSmall(book);
    const [first, second] = before.fixtures;
    const job = edited(edited(before, second?.tag ?? '', 'load', 44), 'P-1', 'load', 60);
    const out = await markSmall(book, job);
    expect(valueAt(out, 'C2')).toBe('3');
    expect(valueAt(out, 'F2')).toBe('40');
    expect(valueAt(out, 'F3')).toBe('60');
    const headers = [...out.cells.keys()].filter((key) => /^[A-Z]+1$/.test(key));
    const at = (title: string, row: number) => {
      const key = headers.find((one) => valueAt(out, one) === title) ?? '';
      return valueAt(out, key.replace(/1$/, String(row)));
    };
    expect(at('Runledger id', 2)).toBe(
      before.fixtures
        .slice(0, 3)
        .map((f) => f.id)
        .join(' '),
    );
    expect(at('Place', 2)).toBe('1 – 3');
    expect(at('Cable so far (m)', 2)).toBe('2.5 – 7.5');
    expect([...notesOf(out).values()].join('\n')).toContain('This row stands for 3 fixtures');
    const back = projectOf(out.bytes, 'plan.xlsx');
    expect(back.source?.sheets.map(({ sheet }) => sheet)).toEqual(['Marked-up fixtures']);
    expect(back.fixtures.map((f) => [f.id, f.tag, f.loadW])).toEqual(
      job.fixtures.map((f) => [f.id, f.tag, f.loadW]),
    );
    // It comes back, is edited, and goes into the engineer's rows again.
    const again = await markSmall(out.bytes, edited(back, 'P-1', 'load', 61));
    expect(valueAt(again, 'F3')).toBe('61');
    expect(valueAt(again, 'F2')).toBe('40');
    expect([...again.cells.keys()].filter((key) => /^[A-Z]+1$/.test(key))).toEqual(headers);
    expect(first?.tag).toBeTruthy();
  });

  it('say how many of them are no longer in the job', async () => {
    const { before } = readSmall(book);
    const left = { ...before, fixtures: before.fixtures.filter((_, i) => i !== 1) };
    const out = await markSmall(book, left);
    const notes = [...notesOf(out).values()].join('\n');
    expect(notes).toContain('1 of the 3 stated here is no longer in the job');
  });
});

it('a new fixture stands below, in the looks of its neighbour', async () => {
  const book = smallBook([header, ...fixtures(['2/1', '2/10', '2/19']), [], ['Issued for review']]);
  const { before } = readSmall(book);
  const inserted = insertAfter(before, before.fixtures[0]?.id ?? '');
  if (inserted === null) throw new Error('not inserted');
  let job = done(before, inserted);
  const id = job.fixtures.find((f) => f.origin === null)?.id ?? '';
  job = {
    ...job,
    fixtures: job.fixtures.map((f) =>
      f.id === id ? { ...f, tag: 'N-1', universe: 2, address: 100 } : f,
    ),
  };
  const out = await markSmall(book, job);
  expect(valueAt(out, 'A6')).toBe('Issued for review');
  expect(valueAt(out, 'A7')).toBe('N-1');
  expect(valueAt(out, 'G7')).toBe('2/100');
  const back = projectOf(out.bytes, 'plan.xlsx');
  expect(back.fixtures.map((f) => f.tag).sort()).toEqual(job.fixtures.map((f) => f.tag).sort());
});
