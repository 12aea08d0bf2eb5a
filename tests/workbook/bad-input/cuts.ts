import { readFileSync } from 'node:fs';
import { strToU8 } from 'fflate';
import { fixtureBytes } from '../fixture.ts';
import { schedule } from './good-package.ts';

/** A whole file to be cut off, and where. */
export interface CutFile {
  readonly title: string;
  readonly fileName: string;
  readonly bytes: Uint8Array;
  /** Lengths left. */
  readonly lengths: readonly number[];
  /** Codes a stump may be refused with; empty: it may be read, with a remark. */
  readonly codes: readonly string[];
}

/** Lengths at every so many bytes, the whole left out. */
function every(step: number, length: number): number[] {
  const lengths: number[] = [];
  for (let at = 0; at < length; at += step) lengths.push(at);
  return lengths;
}

const tenths = (length: number) =>
  Array.from({ length: 9 }, (_, at) => Math.floor((length * (at + 1)) / 10));

function cut(
  title: string,
  fileName: string,
  bytes: Uint8Array,
  lengths: readonly number[],
  codes: readonly string[],
): CutFile {
  return { title, fileName, bytes, lengths, codes };
}

export function cutFiles(): CutFile[] {
  const small = schedule();
  const rich = fixtureBytes('openpyxl-schedule.xlsx');
  const old = fixtureBytes('old-schedule.xls');
  const locked = fixtureBytes('with-password.xlsx');
  const project = new Uint8Array(
    readFileSync(new URL('../../files/project/0001-with-source.runledger', import.meta.url)),
  );
  const csv = strToU8(
    'Tag,Type,Run,Load W,Note\r\nD-1,T1,R1,12.5,"3 µm, Ω"\r\nD-2,T1,R1,12.5,"6 m"\r\nD-3,T1,R1,12.5,x',
  );
  // Before the first four bytes nothing says that it is a zip.
  const zip = ['empty', 'cut-off', 'no-schedule', 'binary'];
  return [
    cut('small .xlsx cut at every byte', 'cut.xlsx', small, every(1, small.length), zip),
    cut('.xlsx cut at every tenth byte', 'cut.xlsx', rich, every(10, rich.length), zip),
    cut('.xlsx cut at every tenth', 'cut.xlsx', rich, tenths(rich.length), ['cut-off']),
    cut('.xls cut at every tenth', 'cut.xls', old, tenths(old.length), [
      'old-workbook',
      'old-container',
    ]),
    cut('locked .xlsx cut at every tenth', 'cut.xlsx', locked, tenths(locked.length), [
      'encrypted',
      'old-container',
    ]),
    cut('project cut at every tenth', 'cut.runledger', project, tenths(project.length), [
      'cut-off',
    ]),
    cut('csv cut at every byte', 'cut.csv', csv, every(1, csv.length), [
      'empty',
      'no-schedule',
      'csv-quote',
    ]),
  ];
}
