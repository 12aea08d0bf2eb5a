/** Choices of this window, kept by the host: theme, columns shown, caution accepted. */
import { computed, effect, signal } from '@preact/signals';
import { type ColumnId, columns } from '../../src-shared/columns/column-table.ts';
import { remember, remembered } from './memory.ts';

export type ThemeChoice = 'system' | 'light' | 'dark';

const keys = {
  theme: 'window.theme',
  columns: 'window.columns',
  caution: 'window.caution-accepted',
} as const;

const defaultColumns: readonly ColumnId[] = [
  'tag',
  'type',
  'place',
  'span',
  'installed',
  'load',
  'cumulativeCurrent',
  'throughCurrent',
  'voltsHere',
  'drop',
  'universe',
  'address',
  'findings',
];
const known = new Set<string>(columns.map(({ id }) => id));

export const theme = computed<ThemeChoice>(() => {
  const text = remembered(keys.theme);
  return text === 'light' || text === 'dark' ? text : 'system';
});

export function chooseTheme(choice: ThemeChoice): void {
  remember(keys.theme, choice === 'system' ? null : choice);
}

/** Apart, so that other things kept do not make the grid set its columns anew. */
const columnsKept = computed(() => remembered(keys.columns) ?? '');
/** Shown for this window only, because the user was taken to a cell of theirs. */
const lent = signal<readonly ColumnId[]>([]);

export const shownColumns = computed<ReadonlySet<ColumnId>>(() => {
  const list = columnsKept.value.split(',').filter((id) => known.has(id)) as ColumnId[];
  return new Set([...(list.length === 0 ? defaultColumns : list), ...lent.value]);
});

export function showColumns(ids: ReadonlySet<ColumnId>): void {
  lent.value = [];
  remember(keys.columns, [...ids].join(','));
}

export function resetColumns(): void {
  lent.value = [];
  remember(keys.columns, null);
}

/** Shows a column without choosing it for good. */
export function lendColumn(id: ColumnId): void {
  if (!lent.peek().includes(id)) lent.value = [...lent.peek(), id];
}

export function cautionAccepted(): boolean {
  return remembered(keys.caution) === 'yes';
}

export function acceptCaution(): void {
  remember(keys.caution, 'yes');
}

/** Follows the chosen theme: the page's attribute. */
export function followTheme(page: Document): void {
  effect(() => {
    const choice = theme.value;
    if (choice === 'system') page.documentElement.removeAttribute('data-theme');
    else page.documentElement.setAttribute('data-theme', choice);
  });
}
