/** The import report as it stands: its readings, the filter, and those of the cell at hand. */
import { computed, signal } from '@preact/signals';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import type { Confidence } from '../../src-shared/document/project.ts';
import { onChange, project } from './document-store.ts';
import { importHand } from './import-hand.ts';
import { filterReadings, listReadings, type ReadingFilter } from './reading-list.ts';

const readings = computed(() => project.value?.source?.readings ?? []);
const answers = computed(() => project.value?.source?.answers ?? noAnswers);

/** Every reading, what wants a look first. */
export const entries = computed(() => listReadings(readings.value, answers.value));

const asAtFirst: ReadingFilter = {
  confidences: new Set<Confidence>(['refused', 'guess', 'likely']),
  state: 'open',
};

export const readingFilter = signal<ReadingFilter>(asAtFirst);

/** Another job: nothing of the one before is under hand. */
onChange((changes) => {
  if (changes !== 'opened') return;
  importHand.value = null;
  readingFilter.value = asAtFirst;
});

export const shownEntries = computed(() => filterReadings(entries.value, readingFilter.value));

export const openCount = computed(() => entries.value.filter(({ open }) => open).length);

/** Readings of the cell at hand; the one chosen in the report first. */
export const entriesAtHand = computed(() => {
  const hand = importHand.value;
  if (hand === null) return [];
  const ofCell = entries.value.filter(({ reading }) => reading.cell === hand.cell);
  const chosen = ofCell.filter(({ key }) => key === hand.readingKey);
  return [...chosen, ...ofCell.filter((entry) => !chosen.includes(entry))];
});
