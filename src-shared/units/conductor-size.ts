/**
 * Names of conductor sizes: American wire gauge (ASTM B258 numbering) and square millimetres
 * (IEC 60228 nominal areas). Only the name is read; resistances stand in the conductor tables.
 */
import { formatTrimmed } from './format-quantity.ts';
import { normaliseText } from './normalise-text.ts';
import { readNumber } from './read-number.ts';
import { quoted } from './refuse-quantity.ts';

/** `gauge`: `14` … `1`, `1/0` … `4/0`. */
export type ConductorSize =
  | { readonly system: 'awg'; readonly gauge: string }
  | { readonly system: 'mm2'; readonly areaMm2: number };

export type ParsedConductorSize =
  | (ConductorSize & { readonly ok: true; readonly notes: readonly string[] })
  | { readonly ok: false; readonly reason: string };

const EXAMPLE = 'write 12 AWG or 2.5 mm²';
const gauge = '(0{1,4}|[1-4] ?/ ?0|\\d{1,2})';
const cores = '(?:(\\d{1,2}) ?(?:x|×|G|C|/C|c/|-(?=#)) ?)?';
const tail = '(?:,? ?(?:cu|copper|str\\.?|stranded|solid))*';
const gaugeForms: readonly RegExp[] = [
  new RegExp(`^${cores}# ?${gauge}(?: ?(?:awg|ga\\.?|gauge))?${tail}$`, 'iu'),
  new RegExp(`^${cores}${gauge} ?-? ?(?:awg|ga\\.?|gauge)${tail}$`, 'iu'),
  new RegExp(`^${cores}(?:awg|no\\.?) ?-? ?#? ?${gauge}(?: ?awg)?${tail}$`, 'iu'),
];
const areaForm = new RegExp(
  `^${cores}(\\d+(?:[.,]\\d+)?|[.,]\\d+) ?(?:mm ?(?:\\^ ?)?2|sq\\.? ?mm\\.?|mm\\.? ?sq\\.?|square mm|square milli(?:metres?|meters?))${tail}$`,
  'iu',
);

const gaugeName = (text: string): string => {
  const digits = text.replaceAll(' ', '');
  return /^0+$/u.test(digits) ? `${digits.length}/0` : digits.replace(/^0(?=\d)/u, '');
};

/**
 * Reads a conductor size: `12 AWG`, `#12`, `1/0 AWG`, `2,5 mm²`, `3x2.5mm²` (the size of one core,
 * with a note). Aluminium, kcmil sizes, a bare number and anything else are refused with a reason.
 */
export function parseConductorSize(text: string): ParsedConductorSize {
  const refuse = (why: string): ParsedConductorSize => ({
    ok: false,
    reason: `${why}; ${EXAMPLE}`,
  });
  if (text.length > 80) return refuse('the text is too long for a conductor size');
  const normal = normaliseText(text);
  if (normal === '') return refuse('the text is empty');
  const shown = quoted(normal);
  if (/\bal\b|alumin/iu.test(normal)) {
    return {
      ok: false,
      reason: `${shown} is aluminium, and only copper is held; give its resistance in ohm/km`,
    };
  }
  if (/kcmil|mcm/iu.test(normal)) {
    return {
      ok: false,
      reason: `${shown} is in kcmil, which is not held; give its resistance in ohm/km`,
    };
  }
  const notes = (count: string | undefined): readonly string[] =>
    count === undefined ? [] : [`size of one conductor of ${count}`];
  for (const form of gaugeForms) {
    const found = form.exec(normal);
    if (found?.[2] === undefined) continue;
    const name = gaugeName(found[2]);
    if (Number(name) > 40) return refuse(`${shown} is not a wire gauge`);
    return { ok: true, system: 'awg', gauge: name, notes: notes(found[1]) };
  }
  const area = areaForm.exec(normal);
  if (area?.[2] !== undefined) {
    const read = readNumber(area[2].replace(',', '.'), 'dot', 'decimal');
    if (!read.ok) return refuse(read.reason);
    if (read.value <= 0 || read.value > 2500) return refuse(`${shown} is not a conductor's area`);
    return { ok: true, system: 'mm2', areaMm2: read.value, notes: notes(area[1]) };
  }
  if (/^\d+(?:[.,]\d+)?(?:\/0)?$/u.test(normal)) {
    return refuse(`${shown} does not say whether it is AWG or mm²`);
  }
  return refuse(`${shown} is not a conductor size`);
}

/** `12 AWG`, `2.5 mm²`. */
export function formatConductorSize(size: ConductorSize): string {
  if (size.system === 'awg') return `${size.gauge} AWG`;
  return `${formatTrimmed(size.areaMm2, 3)} mm²`;
}
