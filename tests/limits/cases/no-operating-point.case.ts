/**
 * 1900 W behind R = 2·(450 m + 5 m)·10 ohm/km = 9.1 ohm at 240 V: 4·R·P = 69160 > V² = 57600, so
 * no voltage carries it; 100 W (3640) it carries. What needs a solution is then not checked.
 */
import { oneLoad, withFixture, withLine, withType } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = withLine(oneLoad(100, 450), 'K1', { resistanceOhmPerKm: 10 });

export const limitCase: LimitCase = {
  id: 'no-operating-point',
  passing,
  failing: withFixture(passing, 'R1f1', { loadW: 1900 }),
  corrected: withFixture(passing, 'R1f1', { loadW: 100 }),
  notChecked: withType(passing, 'U1', { powerFactor: null }),
  expects: {
    severity: 'stop',
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
