import type { FixtureType, Project } from '../../../src-shared/document/project.ts';
import type { RecordColumn } from '../../grid/record-columns.ts';
import { project } from '../../state/document-store.ts';
import { readMaxima, readModes, showMaxima, showModes } from '../../state/list-entries.ts';
import { renameRecord } from '../../state/record-commands.ts';
import { listField, quantityField, textField } from './record-fields.ts';

const overZeroToOne = (value: number) =>
  value > 0 && value <= 1 ? null : 'Power factor is over 0 and at most 1.';

/** The types table: what a fixture of each type draws, takes and answers to. */
export function typeColumns(
  used: (now: Project, name: string) => number,
): readonly RecordColumn<FixtureType>[] {
  return [
    {
      id: 'name',
      title: 'Type',
      width: 90,
      text: ({ name }) => name,
      edit: ({ name }, text) =>
        project.value === null ? null : renameRecord(project.value, 'types', name, text),
    },
    {
      id: 'used',
      title: 'Fixtures',
      width: 74,
      figures: true,
      text: ({ name }) => (project.value === null ? '' : String(used(project.value, name))),
    },
    textField('types', 'description', { title: 'Description', width: 160 }),
    quantityField('types', 'loadW', 'power', 'W', { title: 'Watts', width: 74 }),
    quantityField(
      'types',
      'powerFactor',
      'number',
      '',
      { title: 'Power factor', width: 96 },
      overZeroToOne,
    ),
    quantityField('types', 'printedMinV', 'voltage', 'V', {
      title: 'Printed from',
      width: 96,
      help: 'Least input volts as printed on the data sheet.',
    }),
    quantityField('types', 'printedMaxV', 'voltage', 'V', {
      title: 'Printed to',
      width: 90,
      help: 'Greatest input volts as printed.',
    }),
    quantityField('types', 'absoluteMinV', 'voltage', 'V', {
      title: 'Absolute from',
      width: 102,
      help: 'Least volts it works at; from the printed window less 10 % where not known.',
    }),
    quantityField('types', 'absoluteMaxV', 'voltage', 'V', {
      title: 'Absolute to',
      width: 96,
      help: 'Greatest volts it stands, loaded or not.',
    }),
    listField(
      'types',
      'modes',
      { title: 'Modes', width: 150, help: 'Each with its slots: 5ch = 5, 9ch = 9.' },
      showModes,
      readModes,
    ),
    quantityField('types', 'unitLoad', 'number', '', {
      title: 'Unit load',
      width: 82,
      help: 'EIA-485 unit loads of the receiver; 1/4 is fine.',
    }),
    quantityField('types', 'leakageMa', 'leakage', 'mA', { title: 'Leakage', width: 84 }),
    listField(
      'types',
      'breakerMaxima',
      { title: 'Most per breaker', width: 130, help: 'The maker’s inrush limit: 40 at 20 A.' },
      showMaxima,
      readMaxima,
    ),
  ];
}
