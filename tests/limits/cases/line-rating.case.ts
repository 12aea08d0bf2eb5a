/**
 * 960 W behind R = 2·(20 m + 5 m)·5 ohm/km = 0.25 ohm: V = (240 + √(57600 − 4·0.25·960))/2 =
 * 238.996 V, I = 960/V = 4.0168 A > 4 A. At fixed amps, 960/240 = 4 A, it would look fine.
 */
import { oneLoad, withLine } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = oneLoad(960);

export const limitCase: LimitCase = {
  id: 'line-rating',
  passing,
  failing: withLine(passing, 'K1', { ratingA: 4 }),
  corrected: withLine(passing, 'K1', { ratingA: 10 }),
  notChecked: withLine(passing, 'K1', { ratingA: null }),
  expects: {
    severity: 'stop',
    value: 960 / ((240 + Math.sqrt(240 ** 2 - 4 * 0.25 * 960)) / 2),
    allowed: 4,
    unit: 'A',
    run: 'R1',
    tags: ['R1-01'],
    notCheckedLimits: ['line-rating'],
  },
};
