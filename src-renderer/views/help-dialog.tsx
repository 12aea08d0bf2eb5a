import { columns } from '../../src-shared/columns/column-table.ts';
import { severities } from '../../src-shared/limits/limit.ts';
import { severityWord } from '../state/severity-words.ts';
import { DialogFrame } from './dialog-frame.tsx';
import { Mark } from './mark.tsx';

const keys: readonly (readonly [string, string])[] = [
  [
    'Type, F2, double click',
    'Edit the cell; a length can be 16 ft, 12\'-6", 3.81 m or a sum: 10 ft + 5 ft',
  ],
  ['Enter, Shift+Enter', 'Take the entry and go down, up'],
  [
    'Tab, Shift+Tab',
    'Take the entry and go right, left; Enter then returns to the first column, a row down',
  ],
  ['Esc', 'Leave the cell as it was'],
  ['Delete', 'Clear the cell; what the type says holds again'],
  ['Home, End, Ctrl+Home, Ctrl+End', 'Ends of the row, ends of the schedule'],
  ['Ctrl+Up, Ctrl+Down', 'First and last fixture of the run'],
  ['Insert, Ctrl+Delete', 'Insert a fixture behind, remove the fixture'],
  ['Ctrl+L', 'Lock or unlock the cell'],
  ['Shift+F10, right click', 'Menu of the row'],
  ['F8, Shift+F8', 'Next, previous finding'],
  ['F6, Shift+F6', 'Next, previous part of the window'],
  ['Ctrl+Z, Ctrl+Y', 'Undo, redo'],
  ['Ctrl+S, Ctrl+Shift+S, Ctrl+O, Ctrl+P', 'Save, save as, open, print'],
];

/** In the preview of an import, beside those above. */
const previewKeys: readonly (readonly [string, string])[] = [
  ['Type, F2', 'Have the cell read as another text; the file stays as it is'],
  ['Delete', 'Have the cell read as blank'],
  ['Ctrl+Backspace', 'Read the cell as it stands in the file again'],
  ['Ctrl+Enter', 'Accept the reading of the cell'],
  ['Alt+Enter', 'Take what is offered in its place, such as what a comment says'],
  ['Enter or Space in the list of readings', 'Accept the reading'],
];

const meaning = {
  stop: 'someone or something can be hurt, or a listing is broken',
  breach: 'a limit is broken',
  watch: 'it holds, but is close, or breaks at low supply',
  note: 'worth knowing',
  'not-checked': 'a needed value is missing; never counted as holding',
} as const;

function KeyList({ keys: list }: { readonly keys: readonly (readonly [string, string])[] }) {
  return (
    <dl class="help-keys">
      {list.map(([key, what]) => (
        <div key={key}>
          <dt>{key}</dt>
          <dd>{what}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Help out of the column table and the list of keys. */
export function HelpDialog({ onClose }: { readonly onClose: () => void }) {
  return (
    <DialogFrame title="Help" onClose={onClose} wide>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keys */}
      <section class="help" aria-label="Help" tabIndex={0}>
        <h3>Marks</h3>
        <dl class="help-marks">
          {severities.map((severity) => (
            <div key={severity}>
              <dt>
                <Mark severity={severity} />
                <span aria-hidden="true">{severityWord[severity]}</span>
              </dt>
              <dd>{meaning[severity]}</dd>
            </div>
          ))}
        </dl>
        <h3>Ink</h3>
        <p>
          <span class="ink-typed">Blue</span> is what you may type.{' '}
          <span class="ink-solved">Dark</span> is solved. <span class="quiet">Grey</span> comes from
          the type or the run until you type over it. <em class="ink-proposed">Slanted</em> is a
          proposed address nobody has taken yet.
        </p>
        <h3>Keys</h3>
        <KeyList keys={keys} />
        <h3>Keys of the import preview</h3>
        <KeyList keys={previewKeys} />
        <h3>Columns</h3>
        <dl class="help-keys">
          {columns.map(({ id, title, help, edit }) => (
            <div key={id}>
              <dt class={edit === 'typed' ? 'ink-typed' : 'ink-solved'}>{title}</dt>
              <dd>{help}</dd>
            </div>
          ))}
        </dl>
      </section>
      <div class="dialog-acts">
        <button type="button" class="chief" onClick={onClose}>
          Close
        </button>
      </div>
    </DialogFrame>
  );
}
