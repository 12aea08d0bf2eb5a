/** Places 1, 2, 3, 5: place 4 is missing. */
import { cleanProject, withFixture } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'broken-chain',
  passing,
  failing: withFixture(passing, 'R1f4', { place: 5 }),
  corrected: withFixture(passing, 'R1f4', { place: 4 }),
  notChecked: withFixture(passing, 'R1f4', { place: null }),
  expects: {
    severity: 'breach',
    run: 'R1',
    tags: ['R1-04'],
    notCheckedLimits: [
      'branch-drop',
      'circuit-load',
      'fixture-under-volts',
      'line-rating',
      'no-operating-point',
      'broken-chain',
      'missing-value',
    ],
  },
};
