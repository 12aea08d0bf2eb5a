/** The type has the modes 4ch and 8ch, the row says 16ch. Without any mode nothing is broken, but unknown. */
import { cleanProject, withFixture } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'footprint-unknown',
  passing,
  failing: withFixture(passing, 'R1f2', { mode: '16ch' }),
  corrected: withFixture(passing, 'R1f2', { mode: '4ch' }),
  notChecked: withFixture(passing, 'R1f2', { mode: null }),
  expects: {
    severity: 'breach',
    run: 'R1',
    tags: ['R1-02'],
    notCheckedLimits: ['address-overlap', 'footprint-unknown', 'past-512', 'unlikely-value'],
  },
};
