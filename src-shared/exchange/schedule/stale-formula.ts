/** Formulas of nothing but numbers, such as `36+2.5`, whose kept result can be held against them. */
import type { SourceCell } from '../../document/source-workbook.ts';

const onlyNumbers = /^[-+]?\d+(?:\.\d+)?(?:[-+*/]\d+(?:\.\d+)?)+$/u;
const term = /([-+]?)(\d+(?:\.\d+)?(?:[*/]\d+(?:\.\d+)?)*)/gu;

/** A product such as `3*12/2`, from the left. */
function product(text: string): number {
  const factors = text.match(/[*/]?\d+(?:\.\d+)?/gu) ?? [];
  return factors.reduce((value, factor) => {
    if (factor.startsWith('/')) return value / Number(factor.slice(1));
    return factor.startsWith('*') ? value * Number(factor.slice(1)) : Number(factor);
  }, 1);
}

/** What a formula of numbers, `+ - * /` alone gives; null: it holds anything else. */
export function resultOfNumbers(formula: string): number | null {
  const text = formula.replace(/^=/u, '').replace(/\s+/gu, '');
  if (text.length > 100 || !onlyNumbers.test(text)) return null;
  let sum = 0;
  for (const [, sign, factors = ''] of text.matchAll(term)) {
    sum += (sign === '-' ? -1 : 1) * product(factors);
  }
  return Number.isFinite(sum) ? sum : null;
}

export interface StaleResult {
  readonly note: string;
  /** What the formula gives. */
  readonly offer: string;
}

/** A kept result that is not what the formula gives, or none kept where it can be told; null: neither. */
export function staleResult(cell: SourceCell | undefined): StaleResult | null {
  if (cell?.formula === undefined) return null;
  const result = resultOfNumbers(cell.formula);
  if (result === null) return null;
  const offer = String(Number(result.toPrecision(12)));
  const gives = `the formula ${cell.formula.replace(/^=?/u, '=')} gives ${offer}`;
  if (cell.value === null || cell.value === '') return { note: gives, offer };
  if (typeof cell.value !== 'number') return null;
  if (Math.abs(cell.value - result) <= 1e-9 * Math.max(1, Math.abs(result))) return null;
  return { note: `${gives}, the result kept in the file is ${cell.value}: that was read`, offer };
}
