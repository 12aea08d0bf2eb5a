import { describe, expect, it } from 'vitest';
import {
  findOwnColumns,
  freeHeader,
  headerWithUnit,
  locksFromText,
  locksToText,
  ownColumns,
} from '../../src-shared/exchange/export/own-columns.ts';
import {
  markedFormat,
  severityLetters,
  withoutMark,
} from '../../src-shared/exchange/export/severity-letters.ts';
import { severities } from '../../src-shared/limits/limit.ts';

const ours = ownColumns.map(({ title, unit }) => headerWithUnit(title, unit, 'ft'));

describe('columns of ours', () => {
  it('are known again beside the columns of the file, whatever the length unit', () => {
    const metric = ownColumns.map(({ title, unit }) => headerWithUnit(title, unit, 'm'));
    for (const headers of [ours, metric]) {
      const found = findOwnColumns(['Tag', 'Span ft', ...headers]);
      expect([...found.values()]).toEqual(ownColumns.map((column) => column.key));
      expect([...found.keys()]).toEqual(headers.map((_, i) => i + 2));
    }
  });

  it('are none in a file without our id: "Findings" may be the column of the engineer', () => {
    expect(findOwnColumns(['Tag', 'Findings', 'Drop (%)', 'Locks']).size).toBe(0);
  });

  it('leave a column of the same name to the engineer', () => {
    const taken = new Set<string>();
    const theirs = ['Tag', 'Findings', 'Volts here (V)'].map((header) => freeHeader(header, taken));
    const written = ours.map((header) => freeHeader(header, taken));
    expect(new Set([...theirs, ...written]).size).toBe(theirs.length + written.length);
    const found = findOwnColumns([...theirs, ...written]);
    expect(found.has(1)).toBe(false);
    expect(found.has(2)).toBe(false);
    expect(found.size).toBe(ours.length);
  });

  it('count upwards where even that name is taken', () => {
    const taken = new Set<string>();
    const headers = ['Locks', 'Locks', 'Locks', 'Locks'].map((h) => freeHeader(h, taken));
    expect(headers).toEqual([
      'Locks',
      'Locks, Runledger',
      'Locks, Runledger 2',
      'Locks, Runledger 3',
    ]);
  });
});

describe('locks as text', () => {
  it.each([
    [[], []],
    [['universe', 'address'], []],
    [[], ['homeRun']],
    [
      ['run', 'place', 'span'],
      ['circuit', 'supply'],
    ],
    [['something else'], []],
  ])('%j and %j of the run come back', (fixture, run) => {
    expect(locksFromText(locksToText({ fixture, run }))).toEqual({ fixture, run });
  });

  it('names columns by their titles', () => {
    expect(locksToText({ fixture: ['address'], run: ['homeRun'] })).toBe(
      'Start address; run: Home run',
    );
  });
});

describe('the letter before a marked value', () => {
  it.each(['0.00', '0', 'General', '@', '0.0" ft"'])('comes off the format %j again', (format) => {
    for (const severity of severities) {
      expect(markedFormat(severity, format)).toContain(`"${severityLetters[severity]} "`);
      expect(withoutMark(markedFormat(severity, format))).toBe(format);
    }
  });

  it.each(['"S"0', '0.00', '"Sum "0', 'General', '"S "'])('is not seen in %j', (format) => {
    expect(withoutMark(format)).toBe(format);
  });
});
