/**
 * Edits beside cells that are read by what stands around them: the marked-up file must say what the
 * job says when it is read again. Expected values: by the arithmetic or the words beside each check.
 */
import { describe, expect, it } from 'vitest';
import { removeFixtures } from '../../src-shared/document/edit-rows.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { projectOf } from './jobs.ts';
import {
  done,
  edited,
  header,
  type MarkedSheet,
  markSmall,
  notesOf,
  readSmall,
  type SmallCell,
  smallBook,
  valueAt,
} from './small-book.ts';
import { elementsOf, treeOf, under } from './xml-tree.ts';

const byTag = (project: Project, tag: string) =>
  project.fixtures.find((fixture) => fixture.tag === tag);

async function there(bytes: Uint8Array, job: Project): Promise<MarkedSheet & { back: Project }> {
  const out = await markSmall(bytes, job);
  return { ...out, back: projectOf(out.bytes, 'plan.xlsx') };
}

describe('a ditto mark', () => {
  const rows: (readonly SmallCell[])[] = [
    header,
    ['A-01', 'T1', 'R1', 1, 2.5, 40, 1, 1],
    ['A-02', 'T2', 'R1', 2, 3.5, 55, 1, 10],
    ['A-03', '"', 'R1', 3, 'ditto', 'do.', 1, 19],
    ['A-04', '"', 'R1', 4, 2.5, '"', 1, 28],
  ];

  it('below a fixture that was removed says what it meant', async () => {
    const bytes = smallBook(rows);
    const { before } = readSmall(bytes);
    expect(byTag(before, 'A-03')).toMatchObject({ type: 'T2', spanM: 3.5, loadW: 55 });
    const gone = byTag(before, 'A-02')?.id ?? '';
    const job = done(before, removeFixtures(before, [gone]));
    const out = await there(bytes, job);
    // Row 3 is not read any more; row 2 says T1, 2.5 m and 40 W.
    expect(['B4', 'E4', 'F4'].map((cell) => valueAt(out, cell))).toEqual(['T2', '3.5', '55']);
    // What leans on row 4 may go on leaning on it.
    expect(['B5', 'F5'].map((cell) => valueAt(out, cell))).toEqual(['"', '"']);
    for (const tag of ['A-03', 'A-04']) {
      const { type, spanM, loadW } = byTag(job, tag) ?? {};
      expect(byTag(out.back, tag)).toMatchObject({ type, spanM, loadW });
    }
    const again = await there(out.bytes, out.back);
    expect(byTag(again.back, 'A-04')).toMatchObject({ type: 'T2', loadW: 55 });
  });

  it('stays where nothing was removed', async () => {
    const bytes = smallBook(rows);
    const out = await there(bytes, readSmall(bytes).before);
    expect(['B4', 'E4', 'F4'].map((cell) => valueAt(out, cell))).toEqual(['"', 'ditto', 'do.']);
  });
});

describe('a load in amperes', () => {
  const bytes = smallBook([
    [...header.slice(0, 5), 'Load', 'PF', 'Volts'],
    ['A-01', 'T1', 'R1', 1, 2.5, '0.5 A', 0.9, 120],
    ['A-02', 'T1', 'R1', 2, 2.5, '"', 0.9, 120],
  ]);

  it('stays as written as long as its supply stays', async () => {
    const { before } = readSmall(bytes);
    // 0.5 A × 120 V × 0.9
    expect(byTag(before, 'A-01')?.loadW).toBeCloseTo(54, 9);
    const out = await there(bytes, edited(before, 'A-01', 'place', 7));
    expect([valueAt(out, 'F2'), valueAt(out, 'F3')]).toEqual(['0.5 A', '"']);
  });

  it('becomes its watts where the supply is another now', async () => {
    const { before } = readSmall(bytes);
    const job = edited(before, 'A-01', 'supply', 240);
    expect(byTag(job, 'A-01')?.loadW).toBeCloseTo(54, 9);
    const out = await there(bytes, job);
    // At 240 V the same amperes would be 108 W, which nobody has typed.
    expect(out.back.fixtures.map(({ loadW }) => loadW)).toEqual([54, 54]);
    expect(notesOf(out).get('F2')).toContain('had: 0.5 A');
  });

  it('becomes its watts where the power factor is another now', async () => {
    const { before } = readSmall(bytes);
    const out = await there(bytes, edited(before, 'A-02', 'powerFactor', 0.5));
    expect(out.back.fixtures.map(({ loadW }) => loadW)).toEqual([54, 54]);
    expect(valueAt(out, 'F2')).toBe('0.5 A');
  });
});

describe('a cell struck through', () => {
  const styles =
    '<fonts count="2"><font><sz val="10"/></font><font><strike/><sz val="10"/></font></fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders count="1"><border/></borders><cellXfs count="2"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/><xf numFmtId="0" fontId="1" fillId="0" borderId="0" applyFont="1"/></cellXfs>';
  const struck = { xml: '<v>20</v>', attributes: 's="1"' };
  const bytes = smallBook(
    [
      [...header, 'Breaker'],
      ['A-01', 'T1', 'R1', 1, 2.5, 40, 1, 1, struck],
      ['A-02', 'T1', 'R1', 2, 2.5, 40, 1, 10, null],
    ],
    { styles },
  );
  const breakers = ({ circuits }: Project) => circuits.map(({ breakerA }) => breakerA);

  it.each([15, 20])(
    'in which %i is typed is no longer struck, also the second time',
    async (value) => {
      const { before } = readSmall(bytes);
      expect(breakers(before)).toEqual([null]);
      const out = await there(bytes, edited(before, 'A-01', 'breaker', value));
      expect(valueAt(out, 'I2')).toBe(String(value));
      expect(breakers(out.back)).toEqual([value]);
      const tree = treeOf(out.parts.get('xl/styles.xml') ?? '');
      const look = elementsOf(under(tree, 'cellXfs') ?? tree)[
        Number(out.cells.get('I2')?.attributes.s)
      ];
      const font = elementsOf(under(tree, 'fonts') ?? tree)[Number(look?.attributes.fontId)];
      expect(JSON.stringify(font)).not.toContain('strike');
      const again = await there(out.bytes, out.back);
      expect(breakers(again.back)).toEqual([value]);
    },
  );

  it('stays struck where nobody typed', async () => {
    const { before } = readSmall(bytes);
    const out = await there(bytes, edited(before, 'A-02', 'load', 41));
    expect(valueAt(out, 'I2')).toBe('20');
    expect(breakers(out.back)).toEqual([null]);
  });
});

it('a circuit that cannot stand in one cell with its panel goes to the sheet of all fixtures', async () => {
  const bytes = smallBook([
    [...header, 'Panel/Circuit'],
    ['A-01', 'T1', 'R1', 1, 2.5, 40, 1, 1, 'LP-3/14'],
    ['A-02', 'T1', 'R1', 2, 2.5, 40, 1, 10, 'LP-3/14'],
  ]);
  const job = edited(readSmall(bytes).before, 'A-01', 'circuit', 'C-3');
  const out = await there(bytes, job);
  // `LP-3/C-3` would be read as a circuit of that whole name, without a panel.
  expect(valueAt(out, 'I2')).toBe('LP-3/14');
  expect([...notesOf(out).values()].join('\n')).toContain(
    'Not written into this row: Panel/Circuit',
  );
  expect(out.back.circuits.map(({ panel, name }) => [panel, name])).toEqual([['LP-3', 'C-3']]);
});
