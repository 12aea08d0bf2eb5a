import { useEffect, useRef, useState } from 'preact/hooks';
import type { WindowCommand } from '../../src-shared/contract/window-commands.ts';
import { project } from '../state/document-store.ts';
import { exportNew, sourceToMark } from '../state/export-actions.ts';
import { chooseTheme, type ThemeChoice, theme } from '../state/preferences.ts';
import { offers } from '../state/recovery.ts';
import { dialog, side } from '../state/view-state.ts';
import { commandActs } from '../state/window-commands.ts';

interface Item {
  readonly title: string;
  readonly keys?: string;
  readonly act: () => void;
  readonly off?: boolean;
}

function commandItem(title: string, name: WindowCommand, keys?: string): Item {
  const { act, off } = commandActs[name];
  return { title, act, off: off?.() ?? false, ...(keys !== undefined && { keys }) };
}

function items(): readonly Item[] {
  const none = project.value === null;
  return [
    commandItem('New job', 'new-job'),
    commandItem('Open the demo as a copy', 'open-demo'),
    commandItem('Save as', 'save-as', 'Ctrl+Shift+S'),
    {
      title: 'Export as new workbook',
      off: none || sourceToMark() === null,
      act: () => void exportNew(),
    },
    commandItem('Print', 'print'),
    commandItem('Import report', 'import-report'),
    commandItem('Columns shown', 'columns'),
    {
      title: side.value === 'closed' ? 'Show the run at hand' : 'Close the side',
      off: none,
      act: () => {
        side.value = side.value === 'closed' ? 'run' : 'closed';
      },
    },
    {
      title: `Recovered work (${offers.value.length})`,
      off: offers.value.length === 0,
      act: () => {
        dialog.value = 'recoveries';
      },
    },
    commandItem('Help: columns and keys', 'help'),
    {
      title: 'Caution',
      act: () => {
        dialog.value = 'caution';
      },
    },
    commandItem('About Runledger', 'about'),
  ];
}

const themes: readonly (readonly [ThemeChoice, string])[] = [
  ['system', 'As the system'],
  ['light', 'Light'],
  ['dark', 'Dark'],
];

function step(event: KeyboardEvent, menu: HTMLElement): void {
  const by = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
  if (by === 0) return;
  event.preventDefault();
  const all = [...menu.querySelectorAll<HTMLElement>('button:not([disabled])')];
  const at = all.indexOf(document.activeElement as HTMLElement);
  all[(at + by + all.length) % all.length]?.focus();
}

/** What is needed seldom, behind one button. */
export function MainMenu() {
  const [open, setOpen] = useState(false);
  const root = useRef<HTMLDivElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (!open) return;
    root.current?.querySelector<HTMLElement>('[role="menu"] button:not([disabled])')?.focus();
    const away = (event: Event) => {
      if (!root.current?.contains(event.target as Node)) setOpen(false);
    };
    document.addEventListener('pointerdown', away, true);
    return () => document.removeEventListener('pointerdown', away, true);
  }, [open]);
  return (
    <div class="main-menu" ref={root}>
      <button
        ref={button}
        type="button"
        aria-haspopup="menu"
        aria-expanded={open}
        onClick={() => setOpen(!open)}
      >
        More
      </button>
      {open && (
        <div
          class="menu"
          role="menu"
          aria-label="More"
          tabIndex={-1}
          onKeyDown={(event) => {
            if (event.key === 'Escape') {
              setOpen(false);
              button.current?.focus();
            } else step(event, event.currentTarget);
          }}
        >
          {items().map(({ title, keys, act, off = false }) => (
            <button
              key={title}
              type="button"
              role="menuitem"
              disabled={off}
              onClick={() => {
                setOpen(false);
                act();
              }}
            >
              <span>{title}</span>
              {keys !== undefined && <kbd>{keys}</kbd>}
            </button>
          ))}
          <fieldset class="menu-theme" aria-label="Theme">
            {themes.map(([choice, title]) => (
              <button
                key={choice}
                type="button"
                role="menuitemradio"
                aria-checked={theme.value === choice}
                onClick={() => {
                  chooseTheme(choice);
                }}
              >
                {title}
              </button>
            ))}
          </fieldset>
        </div>
      )}
    </div>
  );
}
