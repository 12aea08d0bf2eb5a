/** Words and signs around a quantity that do not change its number, and the notes they leave. */
import type { QuantityKind } from './quantity.ts';

interface Qualifier {
  readonly pattern: RegExp;
  /** `null`: harmless. */
  readonly note: string | null;
  readonly kinds?: readonly QuantityKind[];
  /** Marks the number as volts although no unit is written. */
  readonly impliesUnit?: string;
}

const prefixes: readonly Qualifier[] = [
  { pattern: /^(?:max\.?|maximum|nom\.?|nominal|@) ?(?=[\d.+~<>-])/iu, note: null },
  { pattern: /^(?:approx\.?|approximately|about|abt\.?|ca\.?|circa|~) ?(?=[\d.+-])/iu, note: 'approximate' },
  { pattern: /^(?:<=?|up to) ?(?=[\d.+-])/iu, note: 'an upper limit' },
  { pattern: /^(?:>=?|min\.?|minimum|at least) ?(?=[\d.+-])/iu, note: 'a lower limit' },
  { pattern: /^(?:typ\.?|typical) ?(?=[\d.+-])/iu, note: 'typical, not maximum' },
  { pattern: /^(?:avg\.?|average|mean) ?(?=[\d.+-])/iu, note: 'average, not maximum' },
  { pattern: /^(?:±|\+\/-) ?(?=[\d.])/u, note: 'the same both ways; read without its sign' },
  { pattern: /^[BCDK](?=\d)/u, note: 'the tripping curve was not read', kinds: ['current'] },
]; // biome-ignore format: a table

// The longest of a family first: "3 ph" before "3".
const phase = '(?:φ|phase|ph\\b\\.?|p\\b)';
const suffixes: readonly Qualifier[] = [
  { pattern: /^\(?(?:max\.?|maximum|nom\.?|nominal|each|ea\.?|rms|incl\.?)\)?(?![\p{L}\d])/iu, note: null },
  { pattern: /^\(?(?:c\/c|o\/c|o\.c\.?|oc|ctrs\.?|centres|centers|on centre|on center)\)?(?![\p{L}\d])/iu, note: null, kinds: ['length'] },
  { pattern: /^\(?(?:typ\.?|typical)\)?(?![\p{L}\d])/iu, note: 'typical, not maximum' },
  { pattern: /^\(?(?:avg\.?|average|mean)\)?(?![\p{L}\d])/iu, note: 'average, not maximum' },
  { pattern: /^\(?(?:min\.?|minimum)\)?(?![\p{L}\d])/iu, note: 'a lower limit' },
  { pattern: /^\(?(?:approx\.?|approximately)\)?(?![\p{L}\d])/iu, note: 'approximate' },
  { pattern: /^\(?(?:L ?-? ?N|ph(?:ase)?\.? ?-? ?n|(?:line|phase)[ -]to[ -]neutral)\)?(?![\p{L}\d])/iu, note: 'line to neutral', kinds: ['voltage'], impliesUnit: 'V' },
  { pattern: /^\(?(?:L ?-? ?L|ph(?:ase)?\.? ?-? ?ph(?:ase)?|(?:line|phase)[ -]to[ -](?:line|phase))\)?(?![\p{L}\d])/iu, note: 'line to line', kinds: ['voltage'], impliesUnit: 'V' },
  { pattern: /^\(?(?:(?:50\/)?[56]0 ?Hz)\)?(?![\p{L}\d])/iu, note: null, kinds: ['voltage'] },
  { pattern: /^\/ ?(?:(?:50\/)?[56]0 ?Hz|[56]0)(?![\p{L}\d])/iu, note: null, kinds: ['voltage'] },
  { pattern: new RegExp(`^\\/ ?[123] ?-? ?${phase}?(?![\\p{L}\\d])`, 'iu'), note: 'read the part before the slash', kinds: ['voltage', 'current'] },
  { pattern: new RegExp(`^-?\\(?(?:1|single) ?-? ?${phase}\\)?(?![\\p{L}\\d])`, 'iu'), note: 'one phase', kinds: ['voltage'], impliesUnit: 'V' },
  { pattern: new RegExp(`^-?\\(?(?:3|three) ?-? ?${phase}\\)?(?![\\p{L}\\d])`, 'iu'), note: 'three phases', kinds: ['voltage'], impliesUnit: 'V' },
  { pattern: /^[-/]? ?[1234] ?-? ?(?:poles?|p)(?![\p{L}\d])/iu, note: 'the number of poles was not read', kinds: ['current', 'voltage'] },
  { pattern: /^~/u, note: null, kinds: ['voltage'] },
  { pattern: /^AC(?![\p{L}\d])/iu, note: null, kinds: ['voltage', 'current'] },
  { pattern: /^DC(?![\p{L}\d])/iu, note: 'direct current', kinds: ['voltage', 'current'] },
  { pattern: /^(?:UL|unit loads?)(?![\p{L}\d])/iu, note: null, kinds: ['number'] },
]; // biome-ignore format: a table

export interface Stripped {
  readonly rest: string;
  readonly notes: readonly string[];
  readonly impliedUnit: string | null;
}

function strip(text: string, kind: QuantityKind, from: readonly Qualifier[]): Stripped {
  let rest = text;
  const notes: string[] = [];
  let impliedUnit: string | null = null;
  for (let more = true; more && rest !== ''; ) {
    more = false;
    for (const qualifier of from) {
      if (qualifier.kinds !== undefined && !qualifier.kinds.includes(kind)) continue;
      const found = qualifier.pattern.exec(rest);
      if (found === null || found[0] === '') continue;
      rest = rest.slice(found[0].length).replace(/^[ ,;]+/u, '');
      if (qualifier.note !== null && !notes.includes(qualifier.note)) notes.push(qualifier.note);
      impliedUnit ??= qualifier.impliesUnit ?? null;
      more = true;
      break;
    }
  }
  return { rest, notes, impliedUnit };
}

/** Takes `max`, `~`, `≤`, `±`, `@` … from the front. */
export function stripPrefixes(text: string, kind: QuantityKind): Stripped {
  return strip(text, kind, prefixes);
}

/** Takes `max`, `each`, `typ`, `L-N`, `1φ`, `/1` … from what follows the quantity. */
export function stripSuffixes(text: string, kind: QuantityKind): Stripped {
  return strip(text.replace(/^[ ,;]+/u, ''), kind, suffixes);
}
