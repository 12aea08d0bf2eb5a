import { rowsRead, rowsSkipped } from '../../../src-shared/document/import-answers.ts';
import type { ScheduleSource } from '../../../src-shared/document/project.ts';
import { project } from '../../state/document-store.ts';
import { forgetShape, readAfresh, shapeKnown } from '../../state/import-memory.ts';
import { addSourceFile } from '../../state/import-merge.ts';
import { chooseRevision } from '../../state/import-revise.ts';
import { showCell, view } from '../../state/view-state.ts';

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

function listed(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

function Counts({ source }: { readonly source: ScheduleSource }) {
  const read = rowsRead(source);
  const skipped = rowsSkipped(source).length;
  const fixtures = project.value?.fixtures.length ?? 0;
  const plain = source.readings.length === 0;
  return (
    <p>
      <strong>{counted(read, 'row')} read</strong> + {skipped} skipped ={' '}
      {counted(read + skipped, 'source row')}; {counted(fixtures, 'fixture')};{' '}
      {plain ? 'every cell was plain' : counted(source.readings.length, 'reading')}.
    </p>
  );
}

/** What was remembered of the last file of this shape, and the ways out of it. */
function Remembered() {
  if (!shapeKnown.value) return null;
  return (
    <p class="remembered">
      Columns, header row and answers as you set them for the last file of this shape.{' '}
      <button type="button" onClick={() => void readAfresh()}>
        Read it afresh
      </button>{' '}
      <button type="button" onClick={forgetShape}>
        Forget
      </button>
    </p>
  );
}

/** What was read, in numbers, and what can be done with the source as a whole. */
export function ImportHead({ source }: { readonly source: ScheduleSource }) {
  const names = source.files.map(({ fileName }) => fileName);
  const [first] = project.value?.fixtures ?? [];
  return (
    <div class="import-head">
      <div>
        <h2>
          How {listed(names)} {names.length === 1 ? 'was' : 'were'} read
        </h2>
        <Counts source={source} />
      </div>
      <div class="import-acts">
        <button
          type="button"
          onClick={() => void addSourceFile()}
          title="Such as the patch beside the installer’s list; rows are brought together by tag"
        >
          Add a file for the same fixtures
        </button>
        <button
          type="button"
          onClick={() => void chooseRevision()}
          title="Shows what is different before anything changes; your answers and edits are kept"
        >
          Read a revised copy
        </button>
        <button
          type="button"
          class="chief"
          onClick={() => {
            if (first !== undefined) showCell(first.id, 'tag');
            else view.value = 'schedule';
          }}
        >
          To the schedule
        </button>
      </div>
      <Remembered />
    </div>
  );
}
