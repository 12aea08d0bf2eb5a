/**
 * 1200 W behind R = 2·(450 m + 5 m)·5 ohm/km = 4.55 ohm: V = (240 + √(57600 − 4·4.55·1200))/2 =
 * 214.551 V < 215 V. The drop limit of this project is 15 %, so that the 10.6 % are no finding.
 */
import { oneLoad, withRun, withSettings, withType } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = withType(withSettings(oneLoad(1200), { branchDropPct: 15 }), 'U1', {
  absoluteMinV: 215,
});

export const limitCase: LimitCase = {
  id: 'fixture-under-volts',
  passing,
  failing: withRun(passing, 'R1', { homeRunM: 450 }),
  corrected: withRun(passing, 'R1', { homeRunM: 20 }),
  notChecked: withType(passing, 'U1', { absoluteMinV: null, printedMinV: null }),
  expects: {
    severity: 'breach',
    value: (240 + Math.sqrt(240 ** 2 - 4 * 4.55 * 1200)) / 2,
    allowed: 215,
    unit: 'V',
    run: 'R1',
    tags: ['R1-01'],
    notCheckedLimits: ['fixture-under-volts', 'wrong-voltage'],
  },
};
