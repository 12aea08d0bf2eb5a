import type { Circuit, Run } from '../../../src-shared/document/project.ts';
import { listedLengthM } from '../../../src-shared/limits/rules/run-length.limit.ts';
import { type RunResult, worstDrop } from '../../../src-shared/solve/run-result.ts';
import { parseConductorSize } from '../../../src-shared/units/conductor-size.ts';
import {
  formatAmps,
  formatLength,
  formatPercent,
  formatVolts,
} from '../../../src-shared/units/format-quantity.ts';
import type { LengthUnit } from '../../../src-shared/units/length.ts';
import type { RecordColumn } from '../../grid/record-columns.ts';
import { findingIndex, project, solved } from '../../state/document-store.ts';
import { renameRecord, setField } from '../../state/record-commands.ts';
import { worstOf } from '../../state/severity-words.ts';
import { quantityField, textField } from './record-fields.ts';

const resultOf = ({ name }: Run): RunResult | undefined => solved()?.runs.get(name);
const circuitOf = (run: Run): Circuit | undefined =>
  project.value?.circuits.find(({ id }) => id === run.circuitId);

function solvedColumn(
  id: string,
  title: string,
  width: number,
  show: (run: RunResult) => string,
): RecordColumn<Run> {
  return {
    id,
    title,
    width,
    figures: true,
    text: (run) => {
      const result = resultOf(run);
      return result === undefined ? '' : show(result);
    },
  };
}

function conductorField(
  field: 'conductor' | 'homeRunConductor',
  title: string,
  width: number,
): RecordColumn<Run> {
  return {
    id: field,
    title,
    width,
    help: 'Where it differs from the line’s: 12 AWG or 2.5 mm².',
    text: (run) => run[field] ?? '',
    edit: ({ name }, text) => {
      const size = parseConductorSize(text);
      if (text.trim() !== '' && !size.ok)
        return { ok: false, reason: `${title} not taken: ${size.reason}.` };
      return setField(
        'runs',
        name,
        field,
        text.trim() === '' ? null : text.trim(),
        `${title} of ${name}`,
      );
    },
  };
}

function lengthField(
  field: 'homeRunM' | 'leadInM',
  title: string,
  unit: LengthUnit,
): RecordColumn<Run> {
  return {
    ...quantityField('runs', field, 'length', '', { title, width: 78 }),
    text: (run) => formatLength(run[field], unit),
  };
}

const foundOn = ({ name }: Run) => findingIndex.value.byRun.get(name) ?? [];

/** The runs table: what each is fed by and built from, and what it comes to. */
export function runColumns(unit: LengthUnit): readonly RecordColumn<Run>[] {
  return [
    {
      id: 'name',
      title: 'Run',
      width: 64,
      text: ({ name }) => name,
      edit: ({ name }, text) =>
        project.value === null ? null : renameRecord(project.value, 'runs', name, text),
    },
    {
      id: 'circuit',
      title: 'Circuit',
      width: 84,
      text: (run) => {
        const circuit = circuitOf(run);
        return [circuit?.panel, circuit?.name].filter(Boolean).join(' ');
      },
    },
    quantityField('runs', 'supplyV', 'voltage', 'V', { title: 'Supply', width: 66 }, (value) =>
      value > 0 ? null : 'Supply cannot be 0 V.',
    ),
    lengthField('homeRunM', 'Home run', unit),
    lengthField('leadInM', 'Lead-in', unit),
    solvedColumn('fixtures', 'Fixtures', 68, ({ facts }) => String(facts.length)),
    solvedColumn('head', 'Head amps', 82, ({ nominal }) => formatAmps(nominal?.headA ?? null, 3)),
    solvedColumn('last', 'Last volts', 84, ({ nominal }) =>
      formatVolts(nominal?.voltsV.at(-1) ?? null, 2),
    ),
    solvedColumn('drop', 'Worst drop', 82, ({ nominal }) =>
      formatPercent(nominal === null ? null : (worstDrop(nominal)?.dropPct ?? null), 2),
    ),
    solvedColumn('drawn', 'Drawn', 66, ({ drawnTotalM }) => formatLength(drawnTotalM, unit)),
    solvedColumn('installed', 'Installed', 74, ({ installedTotalM }) =>
      formatLength(installedTotalM, unit),
    ),
    solvedColumn('listed', 'Listed', 66, ({ line, supplyV }) =>
      supplyV === null ? '' : formatLength(listedLengthM(line, supplyV), unit),
    ),
    {
      id: 'worst',
      title: 'Worst finding',
      width: 150,
      flex: 1,
      text: (run) => foundOn(run)[0]?.title ?? '',
      mark: (run) => worstOf(foundOn(run)),
    },
    textField('runs', 'line', {
      title: 'Line',
      width: 70,
      help: 'From the lines table; empty: the job’s own.',
    }),
    conductorField('conductor', 'Conductor', 92),
    conductorField('homeRunConductor', 'Home run conductor', 136),
    textField('runs', 'dataOutput', {
      title: 'Data output',
      width: 96,
      help: 'Splitter output that feeds the data line; empty: one of its own.',
    }),
  ];
}
