import { useState } from 'preact/hooks';
import { columns } from '../../../src-shared/columns/column-table.ts';
import { lengthUnit } from '../../state/document-store.ts';
import {
  acceptReadings,
  readAsInFile,
  readCellAs,
  reopenReadings,
  takeOffer,
  takeSide,
  textInFile,
} from '../../state/import-acts.ts';
import { answerAt } from '../../state/import-answer-edits.ts';
import { focusAsked, importHand } from '../../state/import-hand.ts';
import { findCell, readAsWords, wordsWithoutReading } from '../../state/import-preview.ts';
import { entries, entriesAtHand } from '../../state/import-report.ts';
import { currentAnswers } from '../../state/import-state.ts';
import { confidenceWord } from '../../state/reading-confidence.ts';
import { type Conflict, conflictOf } from '../../state/reading-conflicts.ts';
import { alike, type ReadingEntry } from '../../state/reading-list.ts';
import { LooksMarks } from './confidence-mark.tsx';

const titleOf = (id: string | null) => columns.find((column) => column.id === id)?.title ?? null;

function stateWords({ reading, accepted, answered }: ReadingEntry): string {
  const word = confidenceWord[reading.confidence];
  return `${answered ? 'answered, ' : ''}${word}${accepted ? ', accepted' : ''}`;
}

/** Two files contradict each other: both sides, and the choice between them. */
function ConflictChoice({ conflict }: { readonly conflict: Conflict }) {
  return (
    <fieldset class="conflict">
      <legend>Two files say different things. Which one holds?</legend>
      {conflict.sides.map((side) => (
        <button key={side.cell} type="button" onClick={() => void takeSide(conflict, side)}>
          <strong>{side.raw === '' ? 'empty' : side.raw}</strong>
          <span class="quiet">{side.cell}</span>
        </button>
      ))}
    </fieldset>
  );
}

/** One reading of the cell with what can be done about it. */
function ReadingAtHand({ entry }: { readonly entry: ReadingEntry }) {
  const { reading, accepted, answered, open } = entry;
  const { offer } = reading;
  const like = alike(entries.value, entry);
  const title = titleOf(reading.column);
  const conflict = conflictOf(
    reading,
    entries.value.map((one) => one.reading),
  );
  return (
    <section class={`hand-reading read-${reading.confidence}`}>
      <p>
        <LooksMarks confidence={reading.confidence} accepted={accepted} answered={answered} />{' '}
        <strong>
          {title === null ? '' : `${title}: `}
          {readAsWords(reading, lengthUnit.value)}
        </strong>{' '}
        <span class="quiet">{stateWords(entry)}</span>
      </p>
      <p class="hand-why">{reading.note}</p>
      {conflict !== null && <ConflictChoice conflict={conflict} />}
      <div class="hand-acts">
        {open && (
          <button type="button" onClick={() => acceptReadings([reading])} title="Enter in the list">
            {reading.confidence === 'refused' ? 'Accept: it stays unknown' : 'Accept'}
          </button>
        )}
        {accepted && (
          <button type="button" onClick={() => reopenReadings([reading])}>
            Open again
          </button>
        )}
        {offer !== undefined && (
          <button
            type="button"
            onClick={() => void takeOffer(reading)}
            title="Alt+Enter in the list"
          >
            Take “{offer}”
          </button>
        )}
        {like.length > 1 && open && (
          <button
            type="button"
            onClick={() => acceptReadings(like.map((one) => one.reading))}
            title="The readings that say the same of the same column"
          >
            Accept all {like.length} like this
          </button>
        )}
      </div>
    </section>
  );
}

/** A text to read the cell as, for those who do not type into the grids. */
function OtherText({ cell, shown }: { readonly cell: string; readonly shown: string }) {
  const [text, setText] = useState(shown);
  return (
    <form
      class="hand-other"
      onSubmit={(event) => {
        event.preventDefault();
        const wanted = text.trim();
        void readCellAs(cell, wanted === '' ? null : wanted);
      }}
    >
      <label>
        Read it as{' '}
        <input
          type="text"
          value={text}
          autoComplete="off"
          spellcheck={false}
          onInput={(event) => setText(event.currentTarget.value)}
        />
      </label>
      <button type="submit">Read</button>
    </form>
  );
}

/** The cell at hand: what the file has, what it was read as and why, and every act on it. */
export function HandPanel() {
  const hand = importHand.value;
  const about = entriesAtHand.value;
  if (hand === null) {
    return (
      <section class="hand-panel" aria-label="Cell at hand">
        <p class="quiet">Take a cell or a reading under hand to see why it was read so.</p>
      </section>
    );
  }
  const { cell } = hand;
  const isCell = findCell(cell) !== null;
  const answer = answerAt(currentAnswers(), cell);
  const raw = isCell ? textInFile(cell) : '';
  const shown = answer === null ? raw : (answer.text ?? '');
  return (
    <section class="hand-panel" aria-label="Cell at hand">
      <div class="hand-head">
        <h3>{cell}</h3>
        {isCell && (
          <p>
            {raw === '' ? <em class="quiet">empty</em> : <q class="hand-raw">{raw}</q>}
            {answer !== null && (
              <>
                {' '}
                · you: <strong class="ink-typed">{answer.text ?? 'left blank'}</strong>
              </>
            )}
          </p>
        )}
        {isCell && (
          <button
            type="button"
            onClick={() => {
              focusAsked.value = 'preview';
            }}
          >
            To the cell
          </button>
        )}
      </div>
      {about.length === 0 ? (
        <p class="quiet">{wordsWithoutReading(cell)}</p>
      ) : (
        about.map((entry) => <ReadingAtHand key={entry.key} entry={entry} />)
      )}
      {isCell && (
        <>
          <OtherText key={`${cell} ${shown}`} cell={cell} shown={shown} />
          <div class="hand-acts">
            <button
              type="button"
              disabled={shown === ''}
              onClick={() => void readCellAs(cell, null)}
            >
              Leave blank
            </button>
            <button
              type="button"
              disabled={answer === null}
              onClick={() => void readAsInFile(cell)}
            >
              As in the file
            </button>
          </div>
        </>
      )}
    </section>
  );
}
