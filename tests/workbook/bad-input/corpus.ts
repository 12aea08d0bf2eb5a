import type { BadInput } from './bad-input.ts';
import { bombs } from './bombs.ts';
import { cellFaults } from './cell-faults.ts';
import { containers } from './containers.ts';
import { csvFaults } from './csv-faults.ts';
import { noSchedule } from './no-schedule.ts';
import { otherKinds } from './other-kinds.ts';
import { partFaults } from './part-faults.ts';
import { projects } from './projects.ts';
import { xmlFaults } from './xml-faults.ts';

/** Every bad file, made in memory when asked for. All content is invented. */
export const corpus: readonly BadInput[] = [
  ...otherKinds,
  ...containers,
  ...partFaults,
  ...xmlFaults,
  ...cellFaults,
  ...bombs,
  ...csvFaults,
  ...noSchedule,
  ...projects,
];
