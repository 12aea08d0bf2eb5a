import type { Circuit } from '../../../src-shared/document/project.ts';
import { circuitName } from '../../../src-shared/limits/circuit-name.ts';
import type { RecordColumn } from '../../grid/record-columns.ts';
import { project, solved } from '../../state/document-store.ts';
import { quantityField, textField } from './record-fields.ts';

function runsOf(circuit: Circuit): string {
  const runs = project.value?.runs.filter((run) => run.circuitId === circuit.id) ?? [];
  return runs.map(({ name }) => name).join(', ');
}

/** The name a circuit goes by, also where the panel's is not stated. */
export function nameOf(circuit: Circuit): string {
  const found = solved()?.circuits.find((result) => result.circuit.id === circuit.id);
  if (found !== undefined) return circuitName(found);
  return [circuit.panel, circuit.name].filter((word) => word !== null).join(' ') || 'no runs yet';
}

/** Circuits: what the runs hang on. Set here, a value holds for every run of the circuit. */
export const circuitColumns: readonly RecordColumn<Circuit>[] = [
  { id: 'title', title: 'Circuit', width: 150, text: nameOf },
  textField('circuits', 'panel', { title: 'Panel', width: 110 }),
  textField('circuits', 'name', {
    title: 'On the panel',
    width: 110,
    help: 'As on the panel: 1,3.',
  }),
  quantityField('circuits', 'breakerA', 'current', 'A', { title: 'Breaker', width: 84 }),
  textField('circuits', 'protection', {
    title: 'Protection',
    width: 150,
    help: 'Class A GFCI, RCD 30 mA, none.',
  }),
  { id: 'runs', title: 'Runs', width: 140, flex: 1, text: runsOf },
];
