/**
 * Four fixtures of 1.1 mA behind one Class A device: 4.4 > 4 mA (UL 943: it trips from 4 to 6 mA,
 * from memory, verify in the adopted edition).
 */
import { cleanProject, withCircuit, withType } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'leakage',
  passing,
  failing: withType(passing, 'U1', { leakageMa: 1.1 }),
  corrected: withType(passing, 'U1', { leakageMa: 0.2 }),
  notChecked: withCircuit(passing, 'c1', { protection: null }),
  expects: {
    severity: 'breach',
    value: 4.4,
    allowed: 4,
    unit: 'mA',
    run: 'R1',
    tags: ['R1-01', 'R1-02', 'R1-03', 'R1-04'],
    notCheckedLimits: ['leakage'],
  },
};
