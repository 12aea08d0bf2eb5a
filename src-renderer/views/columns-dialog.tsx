import type { Column } from '../../src-shared/columns/column-table.ts';
import { gridColumns } from '../grid/schedule-columns.ts';
import { resetColumns, showColumns, shownColumns } from '../state/preferences.ts';
import { DialogFrame } from './dialog-frame.tsx';

const groups: readonly (readonly [string, (column: Column) => boolean])[] = [
  ['Fixture', ({ scope }) => scope === 'fixture'],
  ['Run and circuit', ({ scope }) => scope === 'run' || scope === 'circuit'],
  ['Solved', ({ scope }) => scope === 'solved' || scope === 'bookkeeping'],
];

function toggle(id: Column['id']): void {
  const next = new Set(shownColumns.value);
  if (!next.delete(id)) next.add(id);
  showColumns(next);
}

/** Which columns the schedule shows. The tag always stays. */
export function ColumnsDialog({ onClose }: { readonly onClose: () => void }) {
  return (
    <DialogFrame title="Columns shown" onClose={onClose} wide>
      <div class="column-groups">
        {groups.map(([title, belongs]) => (
          <fieldset key={title}>
            <legend>{title}</legend>
            {gridColumns()
              .filter(belongs)
              .map((column) => (
                <label key={column.id} title={column.help}>
                  <input
                    type="checkbox"
                    checked={column.id === 'tag' || shownColumns.value.has(column.id)}
                    disabled={column.id === 'tag'}
                    onChange={() => toggle(column.id)}
                  />
                  {column.title}
                </label>
              ))}
          </fieldset>
        ))}
      </div>
      <div class="dialog-acts">
        <button type="button" onClick={resetColumns}>
          As at first
        </button>
        <button type="button" class="chief" onClick={onClose}>
          Close
        </button>
      </div>
    </DialogFrame>
  );
}
