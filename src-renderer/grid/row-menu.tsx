import { signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { type ColumnId, columnById } from '../../src-shared/columns/column-table.ts';
import {
  clearCell,
  insertBehind,
  isLocked,
  removeRow,
  toggleLock,
} from '../state/edit-schedule.ts';
import { goTo } from '../state/view-state.ts';

interface OpenMenu {
  readonly fixtureId: string;
  readonly column: ColumnId;
  readonly x: number;
  readonly y: number;
}

const open = signal<OpenMenu | null>(null);

/** Opens the menu of a cell at a point of the window. */
export function openRowMenu(fixtureId: string, column: ColumnId, x: number, y: number): void {
  open.value = { fixtureId, column, x, y };
}

interface Item {
  readonly title: string;
  readonly keys: string;
  readonly act: () => void;
}

function itemsOf({ fixtureId, column }: OpenMenu): Item[] {
  const { title, edit } = columnById(column);
  const insert = () => {
    const id = insertBehind(fixtureId);
    if (id !== null) goTo.value = { fixtureId: id, column: 'tag' };
  };
  const cell: Item[] =
    edit === 'solved'
      ? []
      : [
          {
            title: `${isLocked(fixtureId, column) ? 'Unlock' : 'Lock'} ${title.toLowerCase()}`,
            keys: 'Ctrl+L',
            act: () => toggleLock(fixtureId, column),
          },
          {
            title: `Clear ${title.toLowerCase()}`,
            keys: 'Delete',
            act: () => clearCell(fixtureId, column),
          },
        ];
  return [
    { title: 'Insert a fixture behind', keys: 'Insert', act: insert },
    { title: 'Remove this fixture', keys: 'Ctrl+Delete', act: () => removeRow(fixtureId) },
    ...cell,
  ];
}

function walk(event: KeyboardEvent, menu: HTMLElement): void {
  const items = [...menu.querySelectorAll<HTMLElement>('[role="menuitem"]')];
  const at = items.indexOf(document.activeElement as HTMLElement);
  const by = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
  if (by === 0) return;
  event.preventDefault();
  items[(at + by + items.length) % items.length]?.focus();
}

export function RowMenu() {
  const menu = useRef<HTMLDivElement>(null);
  const shown = open.value;
  useEffect(() => {
    if (shown === null) return;
    menu.current?.querySelector<HTMLElement>('[role="menuitem"]')?.focus();
    const away = (event: Event) => {
      if (!menu.current?.contains(event.target as Node)) open.value = null;
    };
    document.addEventListener('pointerdown', away, true);
    return () => document.removeEventListener('pointerdown', away, true);
  }, [shown]);
  if (shown === null) return null;
  const close = () => {
    open.value = null;
    goTo.value = { fixtureId: shown.fixtureId, column: shown.column };
  };
  const items = itemsOf(shown);
  const left = Math.min(shown.x, innerWidth - 268);
  const top = Math.min(shown.y, innerHeight - items.length * 30 - 12);
  return (
    <div
      class="menu row-menu"
      role="menu"
      aria-label="Row"
      tabIndex={-1}
      ref={menu}
      style={{ left: `${left}px`, top: `${top}px` }}
      onKeyDown={(event) => {
        if (event.key === 'Escape' || event.key === 'Tab') {
          event.preventDefault();
          close();
        } else walk(event, event.currentTarget);
      }}
    >
      {items.map(({ title, keys, act }) => (
        <button
          key={title}
          type="button"
          role="menuitem"
          onClick={() => {
            close();
            act();
          }}
        >
          <span>{title}</span>
          <kbd>{keys}</kbd>
        </button>
      ))}
    </div>
  );
}
