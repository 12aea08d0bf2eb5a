/** What the package itself must hold. */
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { noteAnchor } from '../../src-main/workbook/note-boxes.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { freeSheetName } from '../../src-main/workbook/sheet-titles.ts';
import { storedText } from '../../src-main/workbook/stored-text.ts';
import { writeMarkedUpWorkbook } from '../../src-main/workbook/write-workbook.ts';
import { blankProject } from '../../src-shared/document/blank.ts';
import { demoJob } from './demo-job.ts';
import { hazardJob } from './hazard-job.ts';

const partsOf = (bytes: Uint8Array) =>
  new Map(Object.entries(unzipSync(bytes)).map(([name, data]) => [name, strFromU8(data)]));

describe('the written package', () => {
  it('is the same at every run', async () => {
    const [first, second] = [
      await writeMarkedUpWorkbook(demoJob()),
      await writeMarkedUpWorkbook(demoJob()),
    ];
    expect(Buffer.from(first).equals(Buffer.from(second))).toBe(true);
  });

  it('has no date of its own, or the one it was given', async () => {
    const undated = partsOf(await writeMarkedUpWorkbook(demoJob()));
    expect(undated.get('docProps/core.xml')).not.toMatch(/\d{4}-\d{2}-\d{2}T/);
    const dated = partsOf(await writeMarkedUpWorkbook(demoJob(), { date: '2031-05-04' }));
    expect(dated.get('docProps/core.xml')).toContain('2031-05-04T00:00:00Z');
    expect(dated.get('xl/worksheets/sheet1.xml')).toContain('2031-05-04');
  });

  it('is written for a job without a single row, and reads back as a workbook', async () => {
    const bytes = await writeMarkedUpWorkbook(blankProject('Nothing yet'));
    expect(readSourceFile(bytes, 'nothing.xlsx')).toMatchObject({ ok: true, kind: 'workbook' });
  });

  it('has no formula, no link outside and no macro', async () => {
    for (const project of [demoJob(), hazardJob()]) {
      for (const [name, text] of partsOf(await writeMarkedUpWorkbook(project))) {
        expect(text).not.toMatch(/<f[ >]/);
        expect(text).not.toContain('TargetMode="External"');
        expect(name).not.toMatch(/vba|externalLink/i);
      }
    }
  });

  it('keeps header and footer within the 255 characters a program takes', async () => {
    const long = {
      ...demoJob(),
      name: 'A very long name of a job & more '.repeat(10),
      revision: '&'.repeat(50),
    };
    for (const [name, text] of partsOf(await writeMarkedUpWorkbook(long, { date: '2031-05-04' }))) {
      if (!name.startsWith('xl/worksheets/sheet')) continue;
      for (const [, content = ''] of text.matchAll(/<odd(?:Header|Footer)>([^<]*)</g)) {
        expect(content.replaceAll('&amp;', '&').length).toBeLessThanOrEqual(255);
      }
    }
  });

  it('has note boxes as large as their text asks for', async () => {
    // Five columns of 9 (7·9 + 5 = 68 px) and 60 px of the next make 400; ten lines of 15 px and 12
    // make 162, nine rows of 18.
    expect(noteAnchor(6, 2, 10, Array(20).fill(9))).toBe('3, 8, 4, 6, 8, 60, 13, 0');
    const parts = partsOf(await writeMarkedUpWorkbook(demoJob()));
    const vml = parts.get('xl/drawings/vmlDrawing1.vml') ?? '';
    const anchors = [...vml.matchAll(/<x:Anchor>([^<]*)</g)].map(([, a = '']) =>
      a.split(', ').map(Number),
    );
    expect(anchors.length).toBeGreaterThan(40);
    // The writing library's own boxes end four rows below where they begin, 16 px in.
    expect(anchors.filter((a) => (a[6] ?? 0) - (a[2] ?? 0) > 4).length).toBeGreaterThan(40);
  });
});

describe('sheet names', () => {
  it.each([
    ['Façade: north/south', 'Façade north south'],
    ["'quoted'", 'quoted'],
    ['[a]*?', 'a'],
    ['', 'Schedule'],
    ['x'.repeat(40), 'x'.repeat(31)],
  ])('%j becomes %j', (wanted, expected) => {
    expect(freeSheetName(wanted, new Set())).toBe(expected);
  });

  it('differ from one another whatever their case, and from what programs keep', () => {
    const taken = new Set(['findings']);
    expect(freeSheetName('FINDINGS', taken)).toBe('FINDINGS 2');
    expect(freeSheetName('Findings', taken)).toBe('Findings 3');
    expect(freeSheetName('History', taken)).toBe('History 2');
    expect(freeSheetName('x'.repeat(31), taken)).toHaveLength(31);
    expect(freeSheetName('x'.repeat(31), taken)).toBe(`${'x'.repeat(29)} 2`);
  });

  it('of a schedule give way to ours, which are known by name', async () => {
    const parts = partsOf(await writeMarkedUpWorkbook(hazardJob('Types')));
    const names = [
      ...(parts.get('xl/workbook.xml') ?? '').matchAll(/<sheet [^>]*name="([^"]*)"/g),
    ].map(([, n]) => n);
    expect(names[0]).toBe('Types 2');
    expect(names).toContain('Types');
  });
});

describe('stored text', () => {
  // ECMA-376 part 1, 22.9.2.19 (ST_Xstring): _xHHHH_, and _x005F_ for the underscore of a look-alike.
  it.each([
    ['a\rb', 'a_x000D_b'],
    ['_x0041_', '_x005F_x0041_'],
    ['_xyz_', '_xyz_'],
    ['tab\tand\nline', 'tab\tand\nline'],
    ['\u0000', '_x0000_'],
    ['\uD800', '\uFFFD'],
    ['😀', '😀'],
  ])('%j is stored as %j', (text, expected) => {
    expect(storedText(text)).toBe(expected);
  });

  it('is cut at what a cell can hold', () => {
    expect(storedText('y'.repeat(40_000))).toHaveLength(32_767);
  });
});
