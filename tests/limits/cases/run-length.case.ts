/**
 * Lead-in of 5 m and three spans of 3.5 m: 15.5 m drawn. From pieces of 3 and 5 m each span takes
 * one of 5: 5 + 3·5 = 20 m installed, over the 18 m listed, although 15.5 m would not be. The last
 * tap stands at 20 m, the one before at 15 m.
 */
import { cleanProject, withFixture, withFixtures, withLine } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = withFixture(withFixtures(cleanProject(), 'R1', { spanM: 3.5 }), 'R1f1', {
  spanM: 5,
});

export const limitCase: LimitCase = {
  id: 'run-length',
  passing,
  failing: withLine(passing, 'K1', { lengthLimits: [{ supplyV: 240, maxLengthM: 18 }] }),
  corrected: withLine(passing, 'K1', { lengthLimits: [{ supplyV: 240, maxLengthM: 60 }] }),
  notChecked: withLine(passing, 'K1', { lengthLimits: [] }),
  expects: {
    severity: 'stop',
    value: 20,
    allowed: 18,
    unit: 'm',
    run: 'R1',
    tags: ['R1-04'],
    notCheckedLimits: ['run-length'],
  },
};
