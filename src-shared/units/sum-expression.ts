/** Turns what a user typed as a sum into an expression of SI quantities for the calculator. */
import { matchUnit } from './match-unit.ts';
import type { UnitOfQuantity } from './quantity.ts';
import { type DecimalMark, numberSource } from './read-number.ts';
import { readTerm } from './read-term.ts';
import { quoted } from './refuse-quantity.ts';
import { siSymbols } from './sum-symbols.ts';

export interface SumExpression {
  readonly ok: true;
  /** Such as `(3.048 m) + 2 * (1.524 m)`: digits, operators, brackets and SI symbols only. */
  readonly expression: string;
  /** Units met, in order, by their normalised names; empty when every number is bare. */
  readonly units: readonly UnitOfQuantity[];
  readonly notes: readonly string[];
}

const operators: Readonly<Record<string, string>> = {
  '+': '+', '-': '-', '*': '*', '×': '*', x: '*', X: '*', '/': '/', '÷': '/',
}; // biome-ignore format: a table

const startsNumber = new RegExp(numberSource, 'uy');

/** SI factor of a unit as expression text; `null` for one that does not scale (°C, °F). */
function unitExpression(unit: UnitOfQuantity, value: number): string | null {
  if (unit.dimension === 'none' || unit.dimension === 'temperature') return null;
  return `(${unit.toSi(value)} ${siSymbols[unit.dimension]})`;
}

/**
 * Reads operators, brackets and quantities from left to right. Two quantities side by side, a word
 * that is no unit and a bracket that does not close are refused with a reason.
 */
export function readSum(
  text: string,
  decimal: DecimalMark,
): SumExpression | { readonly ok: false; readonly reason: string } {
  const refuse = (reason: string) => ({ ok: false, reason }) as const;
  const parts: string[] = [];
  const units: UnitOfQuantity[] = [];
  const notes: string[] = [];
  let open = 0;
  /** Whether a value has just ended, so that an operator must follow. */
  let complete = false;
  let at = 0;
  while (at < text.length) {
    const c = text[at] ?? '';
    if (c === ' ') {
      at += 1;
      continue;
    }
    const rest = quoted(text.slice(at));
    startsNumber.lastIndex = at;
    if (startsNumber.test(text)) {
      if (complete) return refuse(`there is no + − × ÷ before ${rest}`);
      const term = readTerm(text, at, { decimal, bareLoneGroup: 'thousands', bareFraction: false });
      if (term === null) return refuse(`${rest} was not understood`);
      if (!term.ok) return refuse(term.reason);
      const { unit } = term;
      const piece = unit === null ? String(term.value) : unitExpression(unit, term.value);
      if (piece === null) return refuse('temperatures are not added');
      parts.push(piece);
      if (unit !== null) units.push({ ...unit, unit: term.unitName ?? unit.unit });
      for (const note of term.notes) if (!notes.includes(note)) notes.push(note);
      at = term.end;
      complete = true;
      continue;
    }
    if (c === '(') {
      if (complete) return refuse(`there is no + − × ÷ before ${rest}`);
      parts.push('(');
      open += 1;
      at += 1;
      continue;
    }
    if (c === ')') {
      if (!complete || open === 0) return refuse(`the bracket at ${rest} closes nothing`);
      parts.push(')');
      open -= 1;
      at += 1;
      continue;
    }
    // "(10 + 5) ft": a unit directly behind a closing bracket.
    const unit = parts[parts.length - 1] === ')' && complete ? matchUnit(text, at) : null;
    if (unit !== null) {
      const factor = unitExpression(unit.unit, 1);
      if (factor === null) return refuse('temperatures are not added');
      const from = openingOf(parts);
      parts.splice(from, 0, '(');
      parts.push('*', factor, ')');
      units.push(unit.unit);
      at = unit.end;
      continue;
    }
    const operator = Object.hasOwn(operators, c) ? operators[c] : undefined;
    if (operator === undefined) return refuse(`${rest} was not understood`);
    if (!complete && operator !== '-' && operator !== '+') {
      return refuse(`a number is missing before ${rest}`);
    }
    parts.push(operator);
    complete = false;
    at += 1;
  }
  if (open > 0) return refuse('a bracket is not closed');
  if (!complete) return refuse('a number is missing at the end');
  return { ok: true, expression: parts.join(' '), units, notes };
}

/** Index of the bracket that the last part closes. */
function openingOf(parts: readonly string[]): number {
  let depth = 0;
  for (let i = parts.length - 1; i >= 0; i -= 1) {
    if (parts[i] === ')') depth += 1;
    if (parts[i] === '(') depth -= 1;
    if (depth === 0) return i;
  }
  return 0;
}
