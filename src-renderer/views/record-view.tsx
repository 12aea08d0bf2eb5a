import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import { RecordGrid } from '../grid/record-grid.tsx';
import { lengthUnit, project, runEdit, solved, solves } from '../state/document-store.ts';
import { say } from '../state/notice.ts';
import { addRecord, type NamedTable, removeRecord, usersOf } from '../state/record-commands.ts';
import { addedRecord, atHand, showCell } from '../state/view-state.ts';
import { circuitColumns } from './records/circuit-columns.ts';
import { lineColumns } from './records/line-columns.ts';
import { patchColumns, patchRows } from './records/patch-columns.ts';
import { runColumns } from './records/run-columns.ts';
import { supplyColumns } from './records/supply-columns.ts';
import { typeColumns } from './records/type-columns.ts';

const nameOf = ({ name }: { readonly name: string }) => name;
const idOf = ({ id }: { readonly id: string }) => id;
let chosen: string | null = null;

interface BarProps {
  readonly table: NamedTable;
  readonly title: string;
  readonly children?: ComponentChildren;
}

/** What a table is, and its two acts: add one, remove the one under hand. */
function TableBar({ table, title, children }: BarProps) {
  const add = () => {
    if (project.value === null) return;
    const { edit, name } = addRecord(project.value, table);
    addedRecord.value = name;
    if (runEdit(edit)) say('status', `Added ${name}. Type over its name.`);
  };
  const remove = () => {
    const now = project.value;
    if (now === null) return;
    if (chosen === null || !now[table].some(({ name }) => name === chosen)) {
      say('alert', 'Choose a row first.');
    } else if (runEdit(removeRecord(now, table, chosen))) say('status', `Removed ${chosen}.`);
  };
  return (
    <div class="table-bar">
      <h2>{title}</h2>
      {children}
      <span class="table-acts">
        <button type="button" onClick={add}>
          Add
        </button>
        <button type="button" onClick={remove}>
          Remove
        </button>
      </span>
    </div>
  );
}

const choose = ({ name }: { readonly name: string }) => {
  chosen = name;
};

export function TypesView() {
  const columns = useMemo(() => typeColumns((now, name) => usersOf(now, 'types', name)), []);
  return (
    <div class="record-view">
      <TableBar table="types" title="Types">
        <p class="quiet">What a fixture of each type draws, takes and answers to.</p>
      </TableBar>
      <RecordGrid
        name="Types"
        rows={project.value?.types ?? []}
        keyOf={nameOf}
        columns={columns}
        onAtHand={choose}
      />
    </div>
  );
}

export function LinesView() {
  const unit = lengthUnit.value;
  const columns = useMemo(() => lineColumns(unit), [unit]);
  return (
    <div class="record-view">
      <TableBar table="lines" title="Lines">
        <p class="quiet">
          Cable systems a run is built from. Empty means not known, and then not checked.
        </p>
      </TableBar>
      <RecordGrid
        name="Lines"
        rows={project.value?.lines ?? []}
        keyOf={nameOf}
        columns={columns}
        onAtHand={choose}
      />
    </div>
  );
}

export function SuppliesView() {
  solves.value;
  return (
    <div class="record-view record-view-two">
      <TableBar table="supplies" title="Panels" />
      <RecordGrid
        name="Panels"
        rows={project.value?.supplies ?? []}
        keyOf={nameOf}
        columns={supplyColumns}
        onAtHand={choose}
      />
      <div class="table-bar">
        <h2>Circuits</h2>
        <p class="quiet">A value set here holds for every run of the circuit.</p>
      </div>
      <RecordGrid
        name="Circuits"
        rows={project.value?.circuits ?? []}
        keyOf={idOf}
        columns={circuitColumns}
      />
    </div>
  );
}

export function RunsView() {
  const unit = lengthUnit.value;
  const version = solves.value;
  // A solve makes new columns: their texts come from its results.
  const columns = useMemo(() => (version < 0 ? [] : runColumns(unit)), [unit, version]);
  return (
    <div class="record-view">
      <TableBar table="runs" title="Runs">
        <p class="quiet">One head box, one terminator, no branch.</p>
      </TableBar>
      <RecordGrid
        name="Runs"
        rows={project.value?.runs ?? []}
        keyOf={nameOf}
        columns={columns}
        onAtHand={({ name }) => {
          chosen = name;
          atHand.value = { fixtureId: null, run: name, column: null };
        }}
      />
    </div>
  );
}

export function PatchView() {
  const session = solved();
  const version = solves.value;
  const rows = useMemo(
    () => (session === null || version < 0 ? [] : patchRows(session)),
    [session, version],
  );
  return (
    <div class="record-view">
      <div class="table-bar">
        <h2>Patch</h2>
        <p class="quiet">
          In order of universe and start address; universes count from 1. Enter goes to the fixture.
        </p>
      </div>
      <RecordGrid
        name="Patch"
        rows={rows}
        keyOf={({ facts }) => facts.fixture.id}
        columns={patchColumns}
        onOpen={({ facts }) => showCell(facts.fixture.id, 'address')}
      />
    </div>
  );
}
