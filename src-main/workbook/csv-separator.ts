/** Candidates; of two that fit equally well the earlier wins (`,` may be a decimal comma). */
const CANDIDATES = ['\t', ';', ','] as const;

export type Separator = (typeof CANDIDATES)[number];

const SAMPLE_CHARACTERS = 65_536;
const SAMPLE_RECORDS = 200;

/** Number of fields of each filled record of the sample, quotes honoured. */
function fieldCounts(sample: string, separator: Separator): number[] {
  const counts: number[] = [];
  let fields = 1;
  let filled = false;
  let quoted = false;
  let fieldStart = true;
  for (let at = 0; at < sample.length && counts.length < SAMPLE_RECORDS; at++) {
    const sign = sample[at];
    if (quoted) {
      if (sign === '"') {
        if (sample[at + 1] === '"') at++;
        else quoted = false;
      }
      continue;
    }
    if (sign === '"' && fieldStart) {
      quoted = true;
      filled = true;
    }
    fieldStart = sign === separator;
    if (sign === separator) fields++;
    else if (sign === '\n' || sign === '\r') {
      if (filled) counts.push(fields);
      fields = 1;
      filled = false;
      fieldStart = true;
    } else if (sign !== ' ') filled = true;
  }
  if (filled) counts.push(fields);
  return counts;
}

/** Share of records that have the most frequent number of fields above one. */
function fitness(counts: readonly number[]): number {
  const frequency = new Map<number, number>();
  for (const count of counts) {
    if (count > 1) frequency.set(count, (frequency.get(count) ?? 0) + 1);
  }
  return Math.max(0, ...frequency.values()) / Math.max(1, counts.length);
}

/**
 * Tells the separator of csv text by which candidate gives most records the same number of fields.
 * A first line `sep=;` decides by itself (it is stripped by the caller).
 */
export function tellSeparator(text: string): Separator {
  const sample = text.slice(0, SAMPLE_CHARACTERS);
  let best: Separator = ',';
  let bestFitness = 0;
  for (const candidate of CANDIDATES) {
    const found = fitness(fieldCounts(sample, candidate));
    if (found > bestFitness) {
      best = candidate;
      bestFitness = found;
    }
  }
  return best;
}
