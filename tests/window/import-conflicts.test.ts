/** Contradictions of two files, found in what the engine reports of them; three stand in the job's own truth file. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { conflictOf, conflictWith } from '../../src-renderer/state/reading-conflicts.ts';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';

const file = (name: string) => new URL(`../files/arrivals/${name}`, import.meta.url);

function workbook(name: string) {
  const read = readSourceFile(readFileSync(file(name)), name);
  if (!read.ok || read.kind !== 'workbook') throw new Error(`${name} was not read`);
  return read.workbook;
}

interface Truth {
  readonly conflicts: readonly {
    readonly patch: { readonly cell: string };
    readonly install: { readonly cell: string };
  }[];
}

test('both sides of every contradiction are found, each from either side', () => {
  const truth: Truth = JSON.parse(readFileSync(file('tarnmoor-merged.truth.json'), 'utf8'));
  const read = readSchedule([workbook('tarnmoor-patch.xlsx'), workbook('tarnmoor-install.xlsx')], {
    answers: noAnswers,
  });
  if (!read.ok) throw new Error('the two files were not read together');
  const readings = read.project.source?.readings ?? [];
  const found = readings.flatMap((reading) => conflictOf(reading, readings) ?? []);
  expect(readings.filter((reading) => conflictWith(reading) !== null)).toHaveLength(found.length);
  const pairs = new Set(found.map(({ sides }) => sides.map(({ cell }) => cell).join(' | ')));
  const wanted = truth.conflicts.map(
    ({ patch, install }) => `${patch.cell} | [tarnmoor-install.xlsx]${install.cell}`,
  );
  expect([...pairs].sort()).toEqual(wanted.sort());
  expect(found).toHaveLength(2 * wanted.length);
});
