import type { LengthLimit, Line } from '../../../src-shared/document/project.ts';
import { parseConductorSize } from '../../../src-shared/units/conductor-size.ts';
import { formatLength } from '../../../src-shared/units/format-quantity.ts';
import type { LengthUnit } from '../../../src-shared/units/length.ts';
import type { RecordColumn } from '../../grid/record-columns.ts';
import { project } from '../../state/document-store.ts';
import { readLengths, readLimits, showLengths, showLimits } from '../../state/list-entries.ts';
import { renameRecord, setField } from '../../state/record-commands.ts';
import { choiceField, listField, quantityField } from './record-fields.ts';

const yesNo = [
  [null, ''],
  [true, 'yes'],
  [false, 'no'],
] as const;

function conductor(): RecordColumn<Line> {
  return {
    id: 'conductor',
    title: 'Conductor',
    width: 92,
    help: '12 AWG or 2.5 mm².',
    text: ({ conductor: name }) => name ?? '',
    edit: ({ name }, text) => {
      const size = parseConductorSize(text);
      if (text.trim() !== '' && !size.ok)
        return { ok: false, reason: `Conductor not taken: ${size.reason}.` };
      return setField(
        'lines',
        name,
        'conductor',
        text.trim() === '' ? null : text.trim(),
        `Conductor of ${name}`,
      );
    },
  };
}

/** The lines table: what a run is built from and what it is listed for. */
export function lineColumns(unit: LengthUnit): readonly RecordColumn<Line>[] {
  const lengths = (list: readonly number[]) => showLengths(list, unit);
  const maxLength = quantityField('lines', 'maxLengthM', 'length', '', {
    title: 'Any voltage up to',
    width: 116,
    help: 'For a line that states one length only; an unlisted voltage is else not checked.',
  });
  return [
    {
      id: 'name',
      title: 'Line',
      width: 90,
      text: ({ name }) => name,
      edit: ({ name }, text) =>
        project.value === null ? null : renameRecord(project.value, 'lines', name, text),
    },
    conductor(),
    quantityField('lines', 'resistanceOhmPerKm', 'resistancePerLength', 'ohm/km', {
      title: 'Resistance, hot',
      width: 124,
      help: 'Per conductor; empty: from the conductor’s table. 1.98 ohm/kft is fine.',
    }),
    quantityField('lines', 'reactanceOhmPerKm', 'resistancePerLength', 'ohm/km', {
      title: 'Reactance',
      width: 106,
      help: 'Per conductor; empty: taken as 0 and listed as an assumption.',
    }),
    quantityField('lines', 'ratingA', 'current', 'A', { title: 'Rating', width: 70 }),
    quantityField('lines', 'maxUpstreamBreakerA', 'current', 'A', {
      title: 'Breaker up to',
      width: 96,
    }),
    listField(
      'lines',
      'lengthLimits',
      {
        title: 'Listed length by voltage',
        width: 216,
        help: 'Head box to last fixture: 220 ft at 208 V, 380 ft at 347 V.',
      },
      (list: readonly LengthLimit[]) => showLimits(list, unit),
      (text) => readLimits(text, unit),
    ),
    { ...maxLength, text: (line) => formatLength(line.maxLengthM, unit) },
    listField(
      'lines',
      'jumperLengthsM',
      { title: 'Jumpers', width: 130, help: 'Stock lengths, never cut: 2, 8, 15, 30 ft.' },
      lengths,
      (text) => readLengths(text, unit),
    ),
    listField(
      'lines',
      'leadInLengthsM',
      { title: 'Lead-ins', width: 110, help: 'Stock lengths: 8, 30, 60 ft.' },
      lengths,
      (text) => readLengths(text, unit),
    ),
    choiceField(
      'lines',
      'leadInCuttable',
      { title: 'Lead-in cut', width: 84, help: 'Its bare end may be cut at the head box.' },
      [
        [true, 'yes'],
        [false, 'no'],
      ],
    ),
    choiceField('lines', 'pieceChoice', { title: 'Pieces chosen by', width: 120 }, [
      ['fewest-joints', 'fewest joints'],
      ['least-excess', 'least excess'],
    ]),
    choiceField(
      'lines',
      'listedPowerAndData',
      { title: 'Power and data', width: 104, help: 'The assembly is listed for both together.' },
      yesNo,
    ),
  ];
}
