/** The last fixtures of both runs carry one tag; nothing is fed from either. */
import { cleanProject, withFixture } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'duplicate-tag',
  passing,
  failing: withFixture(passing, 'R2f4', { tag: 'R1-04' }),
  corrected: withFixture(passing, 'R2f4', { tag: 'R2-04' }),
  notChecked: withFixture(passing, 'R2f4', { tag: null }),
  expects: {
    severity: 'breach',
    value: 2,
    allowed: 1,
    run: null,
    tags: ['R1-04', 'R1-04'],
    notCheckedLimits: ['duplicate-tag'],
  },
};
