/**
 * Arithmetic on quantities with mathjs. Load with a dynamic import: mathjs costs start-up time.
 *
 * Only its parser and four operations are built, and nothing is ever evaluated by it: the parsed
 * tree is walked here, and a node that is not a number, a known unit, + − × ÷ or a bracket is refused.
 */
import {
  addDependencies,
  create,
  createUnitDependencies,
  divideDependencies,
  type FactoryFunctionMap,
  type MathNode,
  multiplyDependencies,
  parseDependencies,
  subtractDependencies,
  type Unit,
  unaryMinusDependencies,
  unitDependencies,
} from 'mathjs';
import type { Dimension } from './quantity.ts';
import { siSymbols } from './sum-symbols.ts';

export type Calculated =
  | { readonly ok: true; readonly value: number; readonly dimension: Dimension | 'other' }
  | { readonly ok: false; readonly reason: string };

export interface SumCalculator {
  /**
   * Value of an expression such as `(3.048 m) + 2 * (1.524 m)`, in the SI unit of its dimension.
   * Never throws.
   */
  readonly calculate: (expression: string) => Calculated;
}

/** Deepest nesting of brackets and operators. */
const DEEPEST_TREE = 120;

class NotAllowed extends Error {}

type Value = number | Unit;

const factories: FactoryFunctionMap = {};
for (const chosen of [
  addDependencies,
  createUnitDependencies,
  divideDependencies,
  multiplyDependencies,
  parseDependencies,
  subtractDependencies,
  unaryMinusDependencies,
  unitDependencies,
]) {
  Object.assign(factories, chosen);
}

/** The calculator; build it once and keep it. */
export function createSumCalculator(): SumCalculator {
  const math = create(factories, {});
  // A percentage is its own dimension here: "3 %" of nothing is not 0.03.
  math.createUnit(siSymbols.percent);
  math.createUnit(siSymbols.resistancePerLength, '1 ohm/km');
  const units = new Map<string, Unit>();
  for (const symbol of Object.values(siSymbols)) units.set(symbol, math.unit(1, symbol));

  const operations: Readonly<Record<string, (a: Value, b: Value) => unknown>> = {
    add: (a, b) => math.add(a as Unit, b as Unit),
    subtract: (a, b) => math.subtract(a as Unit, b as Unit),
    multiply: (a, b) => math.multiply(a as Unit, b as Unit),
    divide: (a, b) => math.divide(a as Unit, b as Unit),
  };

  const asValue = (result: unknown): Value => {
    if (typeof result === 'number') return result;
    if (result !== null && typeof result === 'object' && 'equalBase' in result) {
      return result as Unit;
    }
    throw new NotAllowed('only quantities and + − × ÷ are read');
  };

  const walk = (node: MathNode, depth: number): Value => {
    if (depth > DEEPEST_TREE) throw new NotAllowed('the sum is nested too deeply');
    if (node.type === 'ParenthesisNode') {
      return walk((node as unknown as { content: MathNode }).content, depth + 1);
    }
    if (node.type === 'ConstantNode') {
      const { value } = node as unknown as { value: unknown };
      if (typeof value === 'number') return value;
    }
    if (node.type === 'SymbolNode') {
      const unit = units.get((node as unknown as { name: string }).name);
      if (unit !== undefined) return unit;
    }
    if (node.type === 'OperatorNode') {
      const { fn, args } = node as unknown as { fn: string; args: readonly MathNode[] };
      const [first, second] = args;
      if (args.length === 1 && first !== undefined && (fn === 'unaryMinus' || fn === 'unaryPlus')) {
        const value = walk(first, depth + 1);
        return fn === 'unaryPlus' ? value : asValue(math.unaryMinus(value as Unit));
      }
      const operation = Object.hasOwn(operations, fn) ? operations[fn] : undefined;
      if (args.length === 2 && first && second && operation !== undefined) {
        return asValue(operation(walk(first, depth + 1), walk(second, depth + 1)));
      }
    }
    throw new NotAllowed('only quantities and + − × ÷ are read');
  };

  const measure = (value: Value): Calculated => {
    if (typeof value === 'number') return { ok: true, value, dimension: 'none' };
    for (const [dimension, symbol] of Object.entries(siSymbols)) {
      const unit = units.get(symbol);
      if (unit !== undefined && value.equalBase(unit)) {
        return { ok: true, value: value.toNumber(symbol), dimension: dimension as Dimension };
      }
    }
    return { ok: true, value: Number.NaN, dimension: 'other' };
  };

  return {
    calculate: (expression) => {
      try {
        return measure(walk(math.parse(expression), 0));
      } catch (error) {
        if (error instanceof NotAllowed) return { ok: false, reason: error.message };
        if (error instanceof SyntaxError) return { ok: false, reason: 'the sum is not complete' };
        return { ok: false, reason: 'the parts that are added are not all in one kind of unit' };
      }
    },
  };
}
