/** Three fixtures of the run in universe 1, one in universe 2. */
import { cleanProject, withFixture, withFixtures } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'two-universes',
  passing,
  failing: withFixture(passing, 'R1f3', { universe: 2 }),
  corrected: withFixture(passing, 'R1f3', { universe: 1 }),
  notChecked: withFixtures(passing, 'R1', { universe: null }),
  expects: {
    severity: 'breach',
    value: 2,
    allowed: 1,
    unit: 'universes',
    run: 'R1',
    tags: ['R1-03'],
    notCheckedLimits: ['address-overlap', 'two-universes'],
  },
};
