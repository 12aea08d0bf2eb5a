import type { ProfileNumbers } from '../../document/profile.ts';
import { circuitName } from '../circuit-name.ts';
import type { CircuitLimit, CircuitResult, LimitContext, Outcome } from '../limit.ts';
import { firstsOf, idsOf, marksOf, notChecked, over } from '../outcome.ts';
import { sayLeakage } from '../words/power-words.ts';

interface Allowance {
  readonly breachMa: number;
  readonly watchMa: number;
  /** What a watch is measured against: the same, or a lower number of its own. */
  readonly watchAllowedMa: number;
  readonly device: string;
  readonly why: string;
}

/** Reads the device as written: a Class A ground-fault device, a residual current device with its mA, none. */
export function allowanceOf(
  protection: string,
  numbers: ProfileNumbers,
): Allowance | 'none' | null {
  const text = protection.trim().toLowerCase();
  if (/^(none|no|without|-+|–|—)$/.test(text)) return 'none';
  const rated = /(\d+(?:[.,]\d+)?)\s*ma\b/.exec(text)?.[1];
  if (rated !== undefined) {
    const ratedMa = Number(rated.replace(',', '.'));
    const breachMa = ratedMa * numbers.residualShare;
    return {
      breachMa,
      watchMa: breachMa * numbers.watchShare,
      watchAllowedMa: breachMa,
      device: `device of ${ratedMa} mA`,
      why: `${Math.round(numbers.residualShare * 100)} % of its rated residual current`,
    };
  }
  if (/class\s*a\b/.test(text) || /\bgfci\b/.test(text)) {
    return {
      breachMa: numbers.classABreachMa,
      watchMa: numbers.classAWatchMa,
      watchAllowedMa: numbers.classAWatchMa,
      device: 'Class A ground-fault device',
      why: 'it trips from 4 to 6 mA',
    };
  }
  return null;
}

function check(result: CircuitResult, context: LimitContext): Outcome[] {
  const { circuit, runs } = result;
  const where = circuitName(result);
  const title = 'Leakage';
  const firsts = firstsOf(runs);
  const protectionMarks = marksOf(firsts, 'protection');
  if (circuit.protection === null) {
    return [
      notChecked(
        title,
        where,
        'the protective device (write none where there is none)',
        firsts,
        protectionMarks,
      ),
    ];
  }
  const allowance = allowanceOf(circuit.protection, context.numbers);
  if (allowance === 'none') return [];
  if (allowance === null) {
    return [
      notChecked(
        title,
        where,
        `the rating in mA of "${circuit.protection}"`,
        firsts,
        protectionMarks,
      ),
    ];
  }
  const lacking: string[] = [];
  let leakageMa = 0;
  for (const { facts } of runs) {
    for (const f of facts) {
      if (f.leakageMa === null) lacking.push(f.id);
      leakageMa += f.leakageMa ?? 0;
    }
  }
  const broken = over(leakageMa, allowance.breachMa);
  if (!broken && lacking.length > 0) {
    return [
      notChecked(title, where, 'the leakage of the fixtures', lacking, marksOf(lacking, 'leakage')),
    ];
  }
  if (!broken && !over(leakageMa, allowance.watchMa)) return [];
  const fixtureIds = runs.flatMap((run) => idsOf(run.facts));
  return [
    {
      severity: broken ? 'breach' : 'watch',
      part: '',
      fixtureIds,
      marks: protectionMarks,
      value: leakageMa,
      allowed: broken ? allowance.breachMa : allowance.watchAllowedMa,
      unit: 'mA',
      level: null,
      message: sayLeakage({
        where,
        leakageMa,
        allowedMa: broken ? allowance.breachMa : allowance.watchAllowedMa,
        device: allowance.device,
        count: fixtureIds.length,
        broken,
        why: allowance.why,
      }),
    },
  ];
}

function remedies(result: CircuitResult, context: LimitContext): string[] {
  const allowance = allowanceOf(result.circuit.protection ?? '', context.numbers);
  const each = Math.max(0, ...result.runs.flatMap((run) => run.facts.map((f) => f.leakageMa ?? 0)));
  const remedies = ['Refer to the engineer of record, who decides which device is required.'];
  if (allowance === null || allowance === 'none' || each === 0) return remedies;
  const count = Math.floor(allowance.watchMa / each + 1e-9);
  if (count < 1) return remedies;
  const total = Math.round(count * each * 100) / 100;
  return [`Groups of at most ${count} on one device: ${total} mA each.`, ...remedies];
}

/** Leakage of all fixtures behind one protective device against what it bears without tripping. */
export const leakage: CircuitLimit = {
  id: 'leakage',
  title: 'Leakage',
  basis: {
    'north-america':
      'UL 943: Class A devices trip from 6 mA and not below 4 mA; watch from 2 mA is common practice, no source. Verify in the adopted edition.',
    iec: 'IEC 60364-5-53, 531.3.2: at most 30 % of the rated residual operating current, verify in the adopted edition.',
  },
  needs: 'protective device with its rating, leakage of every fixture behind it',
  scope: 'circuit',
  check,
  remedies,
};
