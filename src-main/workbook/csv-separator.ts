import type { SourceRow, SourceSheet } from '../../src-shared/document/source-workbook.ts';
import { findHeader } from '../../src-shared/exchange/schedule/find-header.ts';

/** Candidates; of two that fit equally well the earlier wins (`,` may be a decimal comma). */
const CANDIDATES = ['\t', ';', ','] as const;

export type Separator = (typeof CANDIDATES)[number];

const SAMPLE_CHARACTERS = 65_536;
const SAMPLE_RECORDS = 200;

/** Fields of each filled record of the sample, quotes honoured; null for a blank line. */
function sampleRecords(sample: string, separator: Separator): (string[] | null)[] {
  const records: (string[] | null)[] = [];
  let fields: string[] = [];
  let field = '';
  let quoted = false;
  let fieldStart = true;
  const endRecord = () => {
    fields.push(field);
    field = '';
    records.push(fields.some((text) => text.trim() !== '') ? fields : null);
    fields = [];
  };
  for (let at = 0; at < sample.length && records.length < SAMPLE_RECORDS; at++) {
    const sign = sample[at] ?? '';
    if (quoted) {
      if (sign !== '"') field += sign;
      else if (sample[at + 1] === '"') {
        field += sign;
        at++;
      } else quoted = false;
      continue;
    }
    const wasStart = fieldStart;
    fieldStart = false;
    if (sign === '"' && wasStart) quoted = true;
    else if (sign === separator) {
      fields.push(field);
      field = '';
      fieldStart = true;
    } else if (sign === '\n' || sign === '\r') {
      if (sign === '\r' && sample[at + 1] === '\n') at++;
      endRecord();
      fieldStart = true;
    } else field += sign;
  }
  if (records.length < SAMPLE_RECORDS && (field !== '' || fields.length > 0)) endRecord();
  return records;
}

/** How many columns a schedule's header among the records names; 0 when there is none. */
function columnsNamed(records: readonly (string[] | null)[]): number {
  const rows = records.flatMap((fields, at): SourceRow[] => {
    const cells = (fields ?? []).flatMap((text, column) =>
      text.trim() === '' ? [] : [{ column, text, value: text, kind: 'text' as const }],
    );
    return cells.length === 0 ? [] : [{ number: at + 1, hidden: false, cells }];
  });
  const sheet: SourceSheet = { name: 'sample', hidden: false, rows, merges: [] };
  return findHeader(sheet, new Map())?.known ?? 0;
}

/** How well a separator fits: columns its header names, share of records of one width, that width. */
type Fitness = readonly [named: number, share: number, width: number];

function fitnessOf(records: readonly (string[] | null)[]): Fitness {
  const filled = records.filter((fields) => fields !== null);
  const frequency = new Map<number, number>();
  for (const { length } of filled) {
    if (length > 1) frequency.set(length, (frequency.get(length) ?? 0) + 1);
  }
  const most = Math.max(0, ...frequency.values());
  const widths = [...frequency].filter(([, count]) => count === most).map(([width]) => width);
  // One column named is no table.
  const named = columnsNamed(records);
  return [named > 1 ? named : 0, most / Math.max(1, filled.length), Math.max(1, ...widths)];
}

function isBetter(a: Fitness, b: Fitness): boolean {
  const at = a.findIndex((value, i) => value !== b[i]);
  return at >= 0 && (a[at] ?? 0) > (b[at] ?? 0);
}

/**
 * Tells the separator of csv text by the table in it, not by the lines above: the candidate whose
 * records have a header row that names most columns of a schedule, else the one that gives most
 * records the same number of fields. A first line `sep=;` decides by itself (it is stripped by the caller).
 */
export function tellSeparator(text: string): Separator {
  const sample = text.slice(0, SAMPLE_CHARACTERS);
  let best: Separator = ',';
  let bestFitness: Fitness = [0, 0, 1];
  for (const candidate of CANDIDATES) {
    const found = fitnessOf(sampleRecords(sample, candidate));
    if (!isBetter(found, bestFitness)) continue;
    best = candidate;
    bestFitness = found;
  }
  return best;
}
