/** R1-02 feeds R1-03 already; R1-04 says it is fed from it too. No second finding for the gap. */
import { cleanProject, withFixture } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'branch',
  passing,
  failing: withFixture(passing, 'R1f4', { fedFrom: 'R1-02' }),
  corrected: withFixture(passing, 'R1f4', { fedFrom: 'R1-03' }),
  notChecked: withFixture(passing, 'R1f3', { fedFrom: null }),
  expects: { severity: 'stop', run: 'R1', tags: ['R1-03', 'R1-04'], notCheckedLimits: ['branch'] },
};
