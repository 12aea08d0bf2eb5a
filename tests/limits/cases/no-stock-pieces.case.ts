/** 33 m from pieces of 3 and 5 m takes seven (6·5 = 30 < 33); more than six in a span is our own figure, no source. */
import { cleanProject, withFixture, withLine } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'no-stock-pieces',
  passing,
  failing: withFixture(passing, 'R1f3', { spanM: 33 }),
  corrected: withFixture(passing, 'R1f3', { spanM: 3 }),
  notChecked: withLine(passing, 'K1', { jumperLengthsM: [] }),
  expects: {
    severity: 'breach',
    value: 33,
    unit: 'm',
    run: 'R1',
    tags: ['R1-03'],
    notCheckedLimits: ['no-stock-pieces'],
  },
};
