/** Says why a text is not a quantity, and whether a sum could still be meant. */
import { matchUnit } from './match-unit.ts';
import { type QuantityKind, quantityKinds, type UnitOfQuantity } from './quantity.ts';

export interface Refusal {
  readonly ok: false;
  readonly reason: string;
  /** The text means something else for certain (a date, a range): it is not tried as a sum. */
  readonly settled: boolean;
}

/** The text as shown in a message: quoted, cut at 40 characters. */
export function quoted(text: string): string {
  const shown = [...text.replaceAll('^2', '²')];
  return `"${shown.length > 40 ? `${shown.slice(0, 39).join('')}…` : shown.join('')}"`;
}

export const refusal = (reason: string, settled: boolean): Refusal => ({
  ok: false,
  reason,
  settled,
});

const months = 'jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec';
const dateForms: readonly RegExp[] = [
  /^\d{1,4}([-/.])\d{1,2}\1\d{1,4}(?:[ T]\d{1,2}:.*)?$/u,
  new RegExp(`^\\d{1,4}[-/. ]*(?:${months})[a-z]*\\.?(?:[-/. ,]*\\d{1,4})?$`, 'iu'),
  new RegExp(`^(?:${months})[a-z]*[-/. ]*\\d{1,4}(?:[-/., ]+\\d{2,4})?$`, 'iu'),
];
const number = '\\d+(?:[.,]\\d+)?';
const pairForm = new RegExp(`^(${number}) ?(-|/|\\.{2,3}|…|to|bis) ?(${number})(?![\\d/'"])`, 'iu');
const systemForm = new RegExp(`^${number} ?(?:V(?:AC)?)? ?[YΔ]? ?(?:/|Y) ?\\d{2,}`, 'iu');
const universal = /^(?:unv|univ\.?|universal|multi(?:[- ]?volt(?:age)?)?)\b/iu;
const blanks =
  /^(?:tb[acd]|n\.?\/?a\.?|nil|none|[-?."]+|eq\.?|equal|var(?:ies|\.)?|ditto|same|do\.?)$/iu;

/** Why `text` (normalised, not read) is no quantity of this kind; `leftOver`: what stood behind one. */
export function refuseText(text: string, kind: QuantityKind, leftOver = ''): Refusal {
  const { title, example } = quantityKinds[kind];
  const write = `write ${example}`;
  const shown = quoted(text);
  if (text === '') return refusal(`the text is empty; ${write}`, true);
  if (text === '"') return refusal(`a ditto mark is not ${title}; ${write}`, true);
  if (blanks.test(text)) return refusal(`${shown} is not ${title}; ${write}`, true);
  if (kind === 'voltage' && universal.test(text)) {
    return refusal(`${shown} is a universal input, not one voltage; ${write}`, true);
  }
  if (dateForms.some((form) => form.test(text))) {
    return refusal(`${shown} looks like a date; ${write}`, true);
  }
  if (kind === 'voltage' && systemForm.test(text)) {
    return refusal(
      `${shown} names a system of two voltages; write the one that is connected, such as 208 V`,
      true,
    );
  }
  const pair = pairForm.exec(text);
  if (pair !== null) return refusePair(text, pair[0].length, pair[2] ?? '', kind);
  if (/^[-+]?[\d.,]+$/u.test(text)) return refusal(`${shown} is not one number; ${write}`, true);
  if (text.startsWith('=')) return refusal(`${shown} is a formula, not ${title}; ${write}`, false);
  if (/\d/u.test(text) && /[+*×÷()]|[^e]-|[\d )]x ?[\d(]/iu.test(text.slice(1))) {
    return refusal(`${shown} is not one quantity; ${write}`, false);
  }
  if (leftOver !== '' && leftOver !== text) {
    return refusal(`${shown}: ${quoted(leftOver)} was not understood; ${write}`, false);
  }
  return refusal(`${shown} is not ${title}; ${write}`, false);
}

function refusePair(text: string, end: number, mark: string, kind: QuantityKind): Refusal {
  const { title, example } = quantityKinds[kind];
  const shown = quoted(text);
  const unit = matchUnit(text, text[end] === ' ' ? end + 1 : end);
  const alone = end === text.length;
  if (!alone && unit?.end !== text.length) {
    return refusal(`${shown} is not ${title}; write ${example}`, false);
  }
  if (mark === '/') {
    // "20/4 ft" may be a division; "12/6" alone may be a date.
    const what = alone
      ? 'could be a date, a fraction or two values'
      : 'is a division or two values';
    return refusal(`${shown} ${what}; write ${example}`, alone);
  }
  const what =
    kind === 'length' && alone ? 'could be feet and inches, a range or a date' : 'could be a range';
  const first = kind === 'length' && alone ? '12 ft 6 in, ' : '';
  return refusal(`${shown} ${what}; write ${first}${example}`, true);
}

/** The unit found is one of another kind. */
export function refuseUnit(text: string, unit: UnitOfQuantity, kind: QuantityKind): Refusal {
  const { title, example } = quantityKinds[kind];
  return refusal(
    `${quoted(text)} is in ${unit.unit}, which is not the unit of ${title}; write ${example}`,
    false,
  );
}

/** A number without a unit, and nothing that says which one is meant. */
export function refuseBare(text: string, kind: QuantityKind): Refusal {
  return refusal(`${quoted(text)} has no unit; write ${quantityKinds[kind].example}`, false);
}
