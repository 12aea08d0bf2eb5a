import type { Confidence } from '../../../src-shared/document/project.ts';
import { confidenceLetter, confidenceWord } from '../../state/reading-confidence.ts';

export interface Looks {
  readonly confidence: Confidence;
  readonly accepted: boolean;
  readonly answered: boolean;
}

/** All that a mark says, in words. */
export function looksWords({ confidence, accepted, answered }: Looks): string {
  const parts = [
    ...(answered ? ['answered'] : []),
    confidenceWord[confidence],
    ...(accepted ? ['accepted'] : []),
  ];
  return parts.join(', ');
}

function glyph(className: string, text: string): HTMLElement {
  const element = document.createElement('span');
  element.className = className;
  element.textContent = text;
  element.setAttribute('aria-hidden', 'true');
  return element;
}

/** The marks of a cell: A answered, the letter of its confidence, a tick when accepted; words to hear. */
export function looksElements(looks: Looks): HTMLElement[] {
  const { confidence, accepted, answered } = looks;
  const heard = document.createElement('span');
  heard.className = 'heard';
  heard.textContent = `${looksWords(looks)}: `;
  const plainAnswer = answered && confidence === 'sure';
  return [
    ...(answered ? [glyph('look look-answered', 'A')] : []),
    ...(plainAnswer ? [] : [glyph(`look look-${confidence}`, confidenceLetter[confidence])]),
    ...(accepted ? [glyph('look-tick', '')] : []),
    heard,
  ];
}

/** One confidence as its letter, for filters and legends; the word stands beside it. */
export function ConfidenceMark({ confidence }: { readonly confidence: Confidence }) {
  return (
    <span class={`look look-${confidence}`} aria-hidden="true">
      {confidenceLetter[confidence]}
    </span>
  );
}

/** The marks of a reading or cell beside words that say the same. */
export function LooksMarks({ confidence, accepted, answered }: Looks) {
  return (
    <span class="looks" aria-hidden="true">
      {answered && <span class="look look-answered">A</span>}
      {!(answered && confidence === 'sure') && <ConfidenceMark confidence={confidence} />}
      {accepted && <span class="look-tick" />}
    </span>
  );
}
