/** Four receivers of 8 unit loads and the sender: 33 > 32 (EIA-485, from memory, verify in the adopted edition). */
import { cleanProject, withType } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'unit-loads',
  passing,
  failing: withType(passing, 'U1', { unitLoad: 8 }),
  corrected: withType(passing, 'U1', { unitLoad: 0.5 }),
  notChecked: withType(passing, 'U1', { unitLoad: null }),
  expects: {
    severity: 'breach',
    value: 33,
    allowed: 32,
    unit: 'unit loads',
    run: 'R1',
    tags: ['R1-01', 'R1-02', 'R1-03', 'R1-04'],
    notCheckedLimits: ['unit-loads'],
  },
};
