/** R1-01 holds slots 1 to 4, R1-02 starts at 4: slot 4 is shared by one pair. */
import { cleanProject, withFixture } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'address-overlap',
  passing,
  failing: withFixture(passing, 'R1f2', { address: 4 }),
  corrected: withFixture(passing, 'R1f2', { address: 5 }),
  notChecked: withFixture(passing, 'R1f2', { mode: null }),
  expects: {
    severity: 'breach',
    value: 1,
    allowed: 0,
    unit: 'pairs',
    run: 'R1',
    tags: ['R1-01', 'R1-02'],
    notCheckedLimits: ['address-overlap', 'footprint-unknown', 'past-512', 'unlikely-value'],
  },
};
