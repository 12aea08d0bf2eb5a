/** A lead-in of 12 m, where the lead-ins of the line are 5 and 10 m long. */
import { cleanProject, withFixture, withLine } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'no-stock-pieces',
  passing,
  failing: withFixture(passing, 'R1f1', { spanM: 12 }),
  corrected: withFixture(passing, 'R1f1', { spanM: 5 }),
  notChecked: withLine(passing, 'K1', { jumperLengthsM: [] }),
  expects: {
    severity: 'breach',
    value: 12,
    unit: 'm',
    run: 'R1',
    tags: ['R1-01'],
    notCheckedLimits: ['no-stock-pieces'],
  },
};
