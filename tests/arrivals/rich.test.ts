/**
 * The richly furnished workbooks read like any other: what surrounds a schedule does not change it.
 * Source: their truth files in `tests/files/rich`, made from the data the workbooks were made of.
 */
import { describe, expect, it } from 'vitest';
import { columnsOf, readArrival, skippedOf, truthOf, wrongValues } from './truth.ts';

describe.each(['harrowgill-viaduct', 'lowmoor-terminal', 'brackwell-quay'])('%s', (name) => {
  const truth = { ...truthOf(`../rich/${name}`), also: [] };
  const project = readArrival([`../rich/${name}`], { profile: truth.profile });

  it('has the sheet, header and columns of the truth', () => {
    for (const sheet of truth.scheduleSheets) {
      expect(project.source?.sheets.map((s) => [s.sheet, s.headerRow])).toContainEqual([
        sheet,
        truth.headerRow[sheet],
      ]);
      expect(columnsOf(project, sheet)).toMatchObject(truth.columns[sheet] ?? {});
    }
  });

  it('has its fixtures with the values of the truth, and the rows left out', () => {
    expect(project.fixtures).toHaveLength(truth.fixtures.length);
    expect(wrongValues(truth, project)).toEqual([]);
    const skipped = truth.rowsSkipped.map((s) => `${s.sheet}/${s.row}: ${s.reason}`);
    expect(skippedOf(project)).toEqual(skipped);
  });
});
