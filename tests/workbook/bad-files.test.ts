import fc from 'fast-check';
import { strToU8, zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { ReadBudget } from '../../src-main/workbook/read-budget.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { READ_LIMITS } from '../../src-main/workbook/read-limits.ts';
import { fixtureBytes, refusalOf } from './fixture.ts';
import { packageBytes, packageParts, relationships } from './package-builder.ts';

// No outside source: the kinds of bad input are those of this project's own quality statements.

// Each kind of fault stands in bad-input.test.ts; here faults come by chance.

const repeat = (text: string, times: number) => text.repeat(times);

test('a cell too long is named; the longest one a file may hold is read', () => {
  const strings = (length: number) => ({
    rows: '<row r="7"><c r="B7" t="s"><v>0</v></c></row>',
    strings: `<si><t>${repeat('x', length)}</t></si>`,
  });
  expect(refusalOf(packageBytes(strings(32_768)), 'a.xlsx').where).toMatch(
    /^a\.xlsx, cell \S+!B7$/,
  );
  expect(refusalOf(strToU8(`Tag\nA,${repeat('x', 40_000)}`), 'a.csv').where).toBe(
    'a.csv, cell a!B2',
  );
  expect(readSourceFile(packageBytes(strings(32_767)), 'a.xlsx').ok).toBe(true);
});

test('a saved project is recognised and left to others', () => {
  const outcome = readSourceFile(zipSync({ 'runledger.json': strToU8('{}') }), 'job');
  expect(outcome).toEqual({ ok: true, kind: 'project' });
});

test('many merged areas of the whole sheet take no time', () => {
  const merges = repeat('<mergeCell ref="A1:XFD1048576"/>', 49_999);
  const rows = repeat(`<row>${repeat('<c><v>1</v></c>', 50)}</row>`, 500);
  const bytes = packageBytes({ rows, after: `<mergeCells>${merges}</mergeCells>` });
  const start = performance.now();
  expect(readSourceFile(bytes, 'a.xlsx').ok).toBe(true);
  expect(performance.now() - start).toBeLessThan(2_000);
});

test('flipped bytes never throw', () => {
  const whole = fixtureBytes('xlsxwriter-plain.xlsx');
  const flips = fc.array(fc.tuple(fc.nat(whole.length - 1), fc.integer({ min: 1, max: 255 })), {
    minLength: 1,
    maxLength: 5,
  });
  fc.assert(
    fc.property(flips, (places) => {
      const bytes = whole.slice();
      for (const [at, bits] of places) bytes[at] = (bytes[at] ?? 0) ^ bits;
      const outcome = readSourceFile(bytes, 'flipped.xlsx');
      if (outcome.ok) return;
      expect(outcome.refusal.code).not.toBe('unreadable');
      expect(outcome.refusal.what).not.toBe('');
    }),
    { numRuns: 1_500, seed: 20_240_229 },
  );
});

test('a part altered inside the XML never throws', () => {
  const parts = packageParts({
    rows: '<row r="1" hidden="1"><c r="A1" s="1" t="s"><v>0</v></c><c r="B1" t="inlineStr"><is><t>x</t></is></c><c r="C1"><f t="shared" si="0" ref="C1:C2">A1+1</f><v>2</v></c></row>',
    after: '<mergeCells><mergeCell ref="A1:B2"/></mergeCells>',
    strings: '<si><t>a</t></si>',
    styles:
      '<numFmts><numFmt numFmtId="170" formatCode="0.0&quot; ft&quot;"/></numFmts><fonts><font><strike/></font></fonts><cellXfs><xf/><xf numFmtId="170" fontId="0"/></cellXfs>',
    parts: {
      'xl/worksheets/_rels/sheet1.xml.rels': relationships({ rId1: ['comments', '/xl/c.xml'] }),
      'xl/c.xml': '<comments><comment ref="A1"><text><t>n</t></text></comment></comments>',
    },
  });
  const names = [...parts.keys()];
  const sign = fc.constantFrom('<', '>', '"', '0', '-', '9', 'A', 'z', ' ', '/', '\u0000', 'é');
  fc.assert(
    fc.property(fc.nat(names.length - 1), fc.nat(400), sign, (place, at, put) => {
      const name = names[place] ?? '';
      const text = new TextDecoder().decode(parts.get(name));
      const cut = at % text.length;
      const changed = new Map(parts).set(
        name,
        strToU8(text.slice(0, cut) + put + text.slice(cut + 1)),
      );
      const outcome = readSourceFile(zipSync(Object.fromEntries(changed)), 'altered.xlsx');
      if (!outcome.ok) expect(outcome.refusal.code).not.toBe('unreadable');
    }),
    { numRuns: 1_500, seed: 20_240_301 },
  );
});

test('cells are counted one by one too, over all sheets', () => {
  const budget = new ReadBudget('plan.xlsx');
  for (let at = 0; at < READ_LIMITS.cells; at++) budget.addCell(0, 1, '1', at % 2 ? 'A' : 'B');
  expect(() => budget.addCell(0, 1, '1', 'B')).toThrow(/450,000 filled cells/);
});
