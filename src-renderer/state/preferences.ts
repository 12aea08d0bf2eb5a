/** Choices of this window, kept in the browser: theme, columns shown, caution accepted. */
import { effect, signal } from '@preact/signals';
import { type ColumnId, columns } from '../../src-shared/columns/column-table.ts';

export type ThemeChoice = 'system' | 'light' | 'dark';

const keys = {
  theme: 'runledger.theme',
  columns: 'runledger.columns',
  caution: 'runledger.caution-accepted',
} as const;

function stored(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

function keep(key: string, value: string): void {
  try {
    localStorage.setItem(key, value);
  } catch {
    // A browser that keeps nothing: the choice holds until the window closes.
  }
}

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

function storedColumns(): ReadonlySet<ColumnId> {
  const known = new Set<string>(columns.map(({ id }) => id));
  const list = (stored(keys.columns) ?? '').split(',').filter((id) => known.has(id));
  return new Set(list.length === 0 ? defaultColumns : (list as ColumnId[]));
}

function storedTheme(): ThemeChoice {
  const text = stored(keys.theme);
  return text === 'light' || text === 'dark' ? text : 'system';
}

export const theme = signal<ThemeChoice>(storedTheme());
export const shownColumns = signal<ReadonlySet<ColumnId>>(storedColumns());

export function showColumns(ids: ReadonlySet<ColumnId>): void {
  shownColumns.value = ids;
  keep(keys.columns, [...ids].join(','));
}

export function resetColumns(): void {
  showColumns(new Set(defaultColumns));
}

export function cautionAccepted(): boolean {
  return stored(keys.caution) === 'yes';
}

export function acceptCaution(): void {
  keep(keys.caution, 'yes');
}

/** Follows the theme signal: the page's attribute and the stored choice. */
export function followTheme(page: Document): void {
  effect(() => {
    const choice = theme.value;
    if (choice === 'system') page.documentElement.removeAttribute('data-theme');
    else page.documentElement.setAttribute('data-theme', choice);
    keep(keys.theme, choice);
  });
}
