import type { Supply } from '../../../src-shared/document/project.ts';
import type { RecordColumn } from '../../grid/record-columns.ts';
import { project } from '../../state/document-store.ts';
import { renameRecord } from '../../state/record-commands.ts';
import { choiceField, quantityField, textField } from './record-fields.ts';

const overZero = (value: number) => (value > 0 ? null : 'A voltage is over 0.');

/** Panels with their system. */
export const supplyColumns: readonly RecordColumn<Supply>[] = [
  {
    id: 'name',
    title: 'Panel',
    width: 110,
    text: ({ name }) => name,
    edit: ({ name }, text) =>
      project.value === null ? null : renameRecord(project.value, 'supplies', name, text),
  },
  textField('supplies', 'system', {
    title: 'System',
    width: 180,
    help: 'As written: 208Y/120 three-phase.',
  }),
  choiceField('supplies', 'phases', { title: 'Phases', width: 80 }, [
    [null, ''],
    [1, '1'],
    [3, '3'],
  ]),
  quantityField(
    'supplies',
    'lineToLineV',
    'voltage',
    'V',
    { title: 'Line to line', width: 100 },
    overZero,
  ),
  quantityField(
    'supplies',
    'lineToNeutralV',
    'voltage',
    'V',
    { title: 'Line to neutral', width: 110 },
    overZero,
  ),
];
