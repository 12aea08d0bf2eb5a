/** 240 V on an option that bears 130 V at most: 240 > 130, loaded or not. */
import { cleanProject, withType } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'wrong-voltage',
  passing,
  failing: withType(passing, 'U1', { absoluteMaxV: 130 }),
  corrected: withType(passing, 'U1', { absoluteMaxV: 305 }),
  notChecked: withType(passing, 'U1', { absoluteMaxV: null, printedMaxV: null }),
  expects: {
    severity: 'stop',
    value: 240,
    allowed: 130,
    unit: 'V',
    run: 'R1',
    tags: ['R1-01', 'R1-02', 'R1-03', 'R1-04'],
    notCheckedLimits: ['wrong-voltage'],
  },
};
