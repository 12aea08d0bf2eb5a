import { useMemo } from 'preact/hooks';
import type { Difference } from '../../../src-shared/exchange/revise/difference.ts';
import type { Severity } from '../../../src-shared/limits/limit.ts';
import type { RecordColumn } from '../../grid/record-columns.ts';
import { RecordGrid } from '../../grid/record-grid.tsx';
import {
  differenceCounts,
  differenceField,
  differenceKinds,
  differenceName,
  differenceValue,
  kindWord,
} from './difference-words.ts';

const shadeOf: Readonly<Partial<Record<Difference['kind'], Severity>>> = {
  conflict: 'watch',
  locked: 'note',
};

const outcomeOf: Readonly<Record<Difference['kind'], string>> = {
  conflict: 'yours stays',
  locked: 'stays',
  removed: 'goes',
  added: 'comes in',
  renumbered: 'takes the new tag; your edits stay with it',
  changed: 'the copy’s is taken',
};

const outcome = ({ kind, note }: Difference) => (note === '' ? outcomeOf[kind] : note);

const columns: readonly RecordColumn<Difference>[] = [
  { id: 'name', title: 'What', width: 120, text: differenceName },
  {
    id: 'kind',
    title: 'Is',
    width: 118,
    text: ({ kind }) => kindWord[kind],
    shade: ({ kind }) => shadeOf[kind] ?? null,
  },
  { id: 'field', title: 'Column', width: 110, text: differenceField },
  {
    id: 'was',
    title: 'In the job',
    width: 120,
    text: (difference) => differenceValue(difference, difference.was),
  },
  {
    id: 'now',
    title: 'In the copy',
    width: 120,
    text: (difference) => differenceValue(difference, difference.now),
  },
  { id: 'note', title: 'What becomes of it', width: 200, flex: 1, text: outcome },
];

/** The differences of a revised copy, those that ask for a decision first. */
export function DifferenceList({ differences }: { readonly differences: readonly Difference[] }) {
  const { rows, keyOf } = useMemo(() => {
    const sorted = differenceKinds.flatMap((kind) => differences.filter((d) => d.kind === kind));
    const keys = new Map(sorted.map((difference, at) => [difference, String(at)]));
    return { rows: sorted, keyOf: (difference: Difference) => keys.get(difference) ?? '' };
  }, [differences]);
  if (rows.length === 0) return <p>Nothing is different.</p>;
  return (
    <>
      <p>
        <strong>{differenceCounts(rows)}.</strong>
      </p>
      <div class="difference-list">
        <RecordGrid name="Differences" rows={rows} keyOf={keyOf} columns={columns} />
      </div>
    </>
  );
}
