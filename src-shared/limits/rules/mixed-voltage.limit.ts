import type { Supply } from '../../document/project.ts';
import { circuitName } from '../circuit-name.ts';
import type { CircuitLimit, CircuitResult, Outcome } from '../limit.ts';
import { idsOf, marksOf, notChecked, plainOutcome } from '../outcome.ts';
import { sayMixedVoltage } from '../words/power-words.ts';
import { ratedVolts } from '../words/shared-words.ts';

/** A panel offers its two voltages; 1 % of slack for names such as 346 and 347 V. */
function panelOffers(supply: Supply, supplyV: number): boolean | null {
  const offered = [supply.lineToLineV, supply.lineToNeutralV].filter((v) => v !== null);
  if (offered.some((v) => Math.abs(v - supplyV) <= 0.01 * v)) return true;
  // With one of its two voltages unknown, the panel may still offer this one.
  return offered.length < 2 ? null : false;
}

function statedVoltages(result: CircuitResult): Map<number, string[]> {
  const stated = new Map<number, string[]>();
  for (const run of result.runs) {
    for (const { fixture } of run.facts) {
      const supplyV = fixture.differing?.supplyV ?? run.supplyV;
      if (supplyV === null) continue;
      const ids = stated.get(supplyV);
      if (ids === undefined) stated.set(supplyV, [fixture.id]);
      else ids.push(fixture.id);
    }
  }
  return stated;
}

/** The circuit's one voltage against what its panel offers. */
function againstPanel(
  result: CircuitResult,
  where: string,
  supplyV: number,
  ids: readonly string[],
): Outcome[] {
  const supply = result.runs[0]?.supply ?? null;
  const offered = supply === null ? null : panelOffers(supply, supplyV);
  if (offered === true) return [];
  if (supply === null || offered === null) {
    const { panel } = result.circuit;
    const need = panel === null ? 'the panel and its voltages' : `the voltages of panel ${panel}`;
    const firsts = result.runs.flatMap((run) => idsOf(run.facts.slice(0, 1)));
    const marks = marksOf(firsts, 'panel');
    return [notChecked('Mixed voltage', where, need, firsts, marks, 'panel')];
  }
  const system = supply.system ?? `${supply.lineToLineV ?? '?'}/${supply.lineToNeutralV ?? '?'} V`;
  const why = `panel ${supply.name} (${system}) has no such voltage`;
  const message = sayMixedVoltage({ where, found: [ratedVolts(supplyV)], why });
  return [plainOutcome('stop', 'panel', ids, marksOf(ids, 'supply'), message)];
}

/** Whether every row says one voltage and the panel offers it. */
function isAgreed({ runs }: CircuitResult): boolean {
  const [first] = runs;
  if (first === undefined || first.supply === null || first.supplyV === null) return false;
  const { supplyV } = first;
  if (panelOffers(first.supply, supplyV) !== true) return false;
  return runs.every(
    (run) =>
      run.supplyV === supplyV && run.facts.every((f) => f.fixture.differing?.supplyV === undefined),
  );
}

function check(result: CircuitResult): Outcome[] {
  if (isAgreed(result)) return [];
  const where = circuitName(result);
  const stated = statedVoltages(result);
  const unknown = result.runs.filter((run) => run.supplyV === null);
  const outcomes: Outcome[] = [];
  if (unknown.length > 0) {
    const ids = unknown.flatMap((run) => idsOf(run.facts.slice(0, 1)));
    outcomes.push(
      notChecked('Mixed voltage', where, 'the supply voltage', ids, marksOf(ids, 'supply')),
    );
  }
  if (stated.size > 1) {
    const groups = [...stated].sort((a, b) => b[1].length - a[1].length);
    const strays = groups.slice(1).flatMap(([, ids]) => ids);
    const found = groups.map(([v, ids]) => `${ratedVolts(v)} on ${ids.length}`);
    const message = sayMixedVoltage({
      where,
      found,
      why: 'one circuit and one run carry one voltage',
    });
    outcomes.push(plainOutcome('stop', '', strays, marksOf(strays, 'supply'), message));
  }
  const [first] = stated;
  if (stated.size === 1 && first !== undefined) {
    outcomes.push(...againstPanel(result, where, ...first));
  }
  return outcomes;
}

/** Fixtures of one run, runs of one circuit, and the panel must agree on one voltage. */
export const mixedVoltage: CircuitLimit = {
  id: 'mixed-voltage',
  title: 'Mixed voltage',
  basis: 'Physics: one circuit has one voltage, one its panel offers.',
  needs: 'supply voltage of every run of the circuit, voltages of its panel',
  scope: 'circuit',
  check,
  remedies: () => [
    'Give every row of the circuit the voltage its panel offers, or put the odd fixtures on a run and circuit of their own.',
  ],
};
