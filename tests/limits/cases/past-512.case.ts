/** Four slots from 511 end at 514; a universe has 512 (ANSI E1.11, from memory, verify in the adopted edition). */
import { cleanProject, withFixture } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'past-512',
  passing,
  failing: withFixture(passing, 'R2f4', { address: 511 }),
  corrected: withFixture(passing, 'R2f4', { address: 29 }),
  notChecked: withFixture(passing, 'R2f4', { mode: null }),
  expects: {
    severity: 'breach',
    value: 511 + 4 - 1,
    allowed: 512,
    unit: 'slot',
    run: 'R2',
    tags: ['R2-04'],
    notCheckedLimits: ['address-overlap', 'footprint-unknown', 'past-512', 'unlikely-value'],
  },
};
