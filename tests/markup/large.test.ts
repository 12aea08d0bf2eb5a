/**
 * Sheets of 3,000 and of 12,000 rows of 30 columns, marked up: time grows with the rows, not with their
 * square. What it took is printed. The document is made here: the larger one is over what the import
 * takes in.
 */
import { zipSync } from 'fflate';
import { expect, it } from 'vitest';
import { markUpWorkbook } from '../../src-main/workbook/patch/mark-up-workbook.ts';
import {
  blankCircuit,
  blankFixture,
  blankProject,
  blankRun,
} from '../../src-shared/document/blank.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { columnLetters } from '../../src-shared/document/source-workbook.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { singleSource } from '../exchange/single-source.ts';
import { packageParts } from '../workbook/package-builder.ts';

const columns = 30;
const read = [
  ['Tag', 'tag'],
  ['Type', 'type'],
  ['Run', 'run'],
  ['Place', 'place'],
  ['Load W', 'load'],
] as const;

const valuesOf = (n: number): (string | number)[] => [
  `F-${n}`,
  'T1',
  `R${Math.floor(n / 20)}`,
  (n % 20) + 1,
  40,
];

function large(rows: number): { bytes: Uint8Array; project: Project } {
  const letters = Array.from({ length: columns }, (_, c) => columnLetters(c));
  const text = (reference: string, value: string) =>
    `<c r="${reference}" t="inlineStr"><is><t>${value}</t></is></c>`;
  const heads = letters.map((l, c) => text(`${l}1`, read[c]?.[0] ?? `Own ${c}`));
  const lines = [`<row r="1">${heads.join('')}</row>`];
  for (let n = 0; n < rows; n += 1) {
    const values = valuesOf(n);
    const cells = letters.map((l, c) => {
      const value = values[c];
      return typeof value === 'string'
        ? text(`${l}${n + 2}`, value)
        : `<c r="${l}${n + 2}" s="0"><v>${value ?? n * c}</v></c>`;
    });
    lines.push(`<row r="${n + 2}" spans="1:30">${cells.join('')}</row>`);
  }
  const parts = packageParts({ rows: lines.join('') });
  const bytes = zipSync(Object.fromEntries(parts), { level: 1 });
  const runs = Array.from({ length: Math.ceil(rows / 20) }, (_, r) => `R${r}`);
  const fixtures = Array.from({ length: rows }, (_, n) => ({
    ...blankFixture(`f${n + 1}`),
    tag: `F-${n}`,
    type: 'T1',
    run: `R${Math.floor(n / 20)}`,
    place: (n % 20) + 1,
    // Every hundredth fixture was edited.
    loadW: n % 100 === 0 ? 41 : 40,
    origin: { file: 0, sheet: 'Plan', row: n + 2, cells: valuesOf(n) },
  }));
  const project = {
    ...blankProject('Large'),
    runs: runs.map((name) => blankRun(name, name)),
    circuits: runs.map((name) => blankCircuit(name)),
    fixtures,
    source: singleSource({
      fileName: 'large.xlsx',
      sheet: 'Plan',
      headerRow: 1,
      columns: read.map(([header, columnId]) => ({ header, columnId, unit: null })),
      rowsRead: rows,
      rowsSkipped: [],
      readings: [],
    }),
  };
  return { bytes, project };
}

async function seconds(rows: number): Promise<number> {
  const { bytes, project } = large(rows);
  const session = new EngineSession(project);
  const start = performance.now();
  const marked = await markUpWorkbook(bytes, 'large.xlsx', project, { file: 0, session });
  const took = (performance.now() - start) / 1000;
  if (!marked.ok) throw new Error(marked.reason.what);
  expect(marked.bytes.length).toBeGreaterThan(bytes.length);
  console.info(`${rows} rows × ${columns} columns marked up in ${took.toFixed(1)} s`);
  return took;
}

it('takes time in proportion to its rows', async () => {
  await seconds(500);
  const small = await seconds(3_000);
  const large = await seconds(12_000);
  // Four times the rows; a cost that grew with their square would be sixteen times. The room is for
  // slow and busy machines.
  expect(large).toBeLessThan(Math.max(2, 7 * small));
  expect(large).toBeLessThan(60);
}, 120_000);
