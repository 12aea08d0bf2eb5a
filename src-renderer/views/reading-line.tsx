import { columnById } from '../../src-shared/columns/column-table.ts';
import { findingIndex, project } from '../state/document-store.ts';
import { insertBehind } from '../state/edit-schedule.ts';
import { notice } from '../state/notice.ts';
import { understood } from '../state/reading-line.ts';
import { atHand, goTo, lineNote, view } from '../state/view-state.ts';
import { splitMessage } from './finding-card.tsx';
import { Mark } from './mark.tsx';

/** `A-14 · Drop`, or nothing when no cell is at hand. */
function cellName(): string {
  const { fixtureId, column } = atHand.value;
  const fixture = project.value?.fixtures.find((f) => f.id === fixtureId);
  if (fixture === undefined || column === null) return '';
  return `${fixture.tag ?? 'no tag'} · ${columnById(column).title}`;
}

function CellWords() {
  const { fixtureId, column } = atHand.value;
  if (view.value !== 'schedule') return <span>{lineNote.value ?? ''}</span>;
  if (fixtureId === null || column === null) return null;
  const { help } = columnById(column);
  const found = findingIndex.value.byCell.get(fixtureId)?.get(column)?.[0];
  return (
    <>
      <strong>{cellName()}</strong>
      {found === undefined ? (
        <span class="quiet">{help}</span>
      ) : (
        <span class="reading-found">
          <Mark severity={found.severity} />
          {splitMessage(found.message).join(' ')}
        </span>
      )}
    </>
  );
}

function addFixture(): void {
  const id = insertBehind(atHand.value.fixtureId);
  if (id !== null) goTo.value = { fixtureId: id, column: 'tag' };
}

/** One line under the tabs: the cell at hand, what an entry is understood as, what just happened. */
export function ReadingLine() {
  const typed = understood.value;
  const said = notice.value;
  return (
    <div class={`reading-line${said?.tone === 'alert' && typed === null ? ' refused' : ''}`}>
      <div class="reading-cell">
        {typed !== null ? (
          <>
            <strong>{cellName()}</strong>
            <span class={typed.ok ? 'understood' : 'not-understood'}>{typed.text}</span>
          </>
        ) : said === null ? (
          <CellWords />
        ) : null}
      </div>
      <div role="status" class={typed === null && said?.tone === 'status' ? 'said' : 'heard'}>
        {said?.tone === 'status' ? said.text : ''}
      </div>
      <div role="alert" class={typed === null && said?.tone === 'alert' ? 'said' : 'heard'}>
        {said?.tone === 'alert' ? said.text : ''}
      </div>
      {view.value === 'schedule' && project.value !== null && (
        <button
          type="button"
          class="add-fixture"
          onClick={addFixture}
          title="Behind the row at hand (Insert)"
        >
          Add fixture
        </button>
      )}
    </div>
  );
}
