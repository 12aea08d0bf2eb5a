import type { Confidence } from '../../../src-shared/document/project.ts';
import { entries, readingFilter } from '../../state/import-report.ts';
import { confidenceWord } from '../../state/reading-confidence.ts';
import { confidences, filterReadings, type ReadingFilter } from '../../state/reading-list.ts';
import { ConfidenceMark } from './confidence-mark.tsx';

const states: readonly (readonly [ReadingFilter['state'], string])[] = [
  ['open', 'open'],
  ['accepted', 'accepted'],
  ['all', 'open and accepted'],
];

function toggle(level: Confidence): void {
  const next = new Set(readingFilter.value.confidences);
  if (!next.delete(level)) next.add(level);
  readingFilter.value = { ...readingFilter.value, confidences: next };
}

/** Whether the list shows what is open, what was accepted, or both. */
export function StateFilter() {
  return (
    <select
      aria-label="Readings shown, open or accepted"
      value={readingFilter.value.state}
      onChange={(event) => {
        const wanted = states.find(([id]) => id === event.currentTarget.value)?.[0];
        if (wanted !== undefined) readingFilter.value = { ...readingFilter.value, state: wanted };
      }}
    >
      {states.map(([id, title]) => (
        <option key={id} value={id}>
          {title}
        </option>
      ))}
    </select>
  );
}

/** Which confidences the list shows, each with how many there are. */
export function ConfidenceFilter() {
  const { confidences: shown, state } = readingFilter.value;
  const inState = filterReadings(entries.value, { confidences: new Set(confidences), state });
  return (
    <fieldset class="confidence-filter">
      <legend class="heard">Readings shown, by confidence</legend>
      {confidences.map((level) => (
        <label key={level}>
          <input type="checkbox" checked={shown.has(level)} onChange={() => toggle(level)} />
          <ConfidenceMark confidence={level} />
          {confidenceWord[level]}{' '}
          <span class="quiet">
            {inState.filter(({ reading }) => reading.confidence === level).length}
          </span>
        </label>
      ))}
    </fieldset>
  );
}
