/**
 * 960 W behind R = 2·(250 m + 5 m)·5 ohm/km = 2.55 ohm: V = (240 + √(57600 − 4·2.55·960))/2 =
 * 229.325 V, drop = 100·(240 − V)/240 = 4.448 % > 3 %, which this project marks binding.
 * 3 %: NEC 210.19(A) informational note, from memory, verify in the adopted edition.
 */
import { oneLoad, withRun, withSettings } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = withSettings(oneLoad(960), { branchDropBinding: true });

export const limitCase: LimitCase = {
  id: 'branch-drop',
  passing,
  failing: withRun(passing, 'R1', { homeRunM: 250 }),
  corrected: withRun(passing, 'R1', { homeRunM: 20 }),
  notChecked: withRun(passing, 'R1', { homeRunM: null }),
  expects: {
    severity: 'breach',
    value: (100 * (240 - (240 + Math.sqrt(240 ** 2 - 4 * 2.55 * 960)) / 2)) / 240,
    allowed: 3,
    unit: '%',
    run: 'R1',
    tags: ['R1-01'],
    notCheckedLimits: [
      'branch-drop',
      'circuit-load',
      'fixture-under-volts',
      'line-rating',
      'no-operating-point',
      'missing-value',
      'unlikely-value',
    ],
  },
};
