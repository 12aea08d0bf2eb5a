import { useEffect, useRef, useState } from 'preact/hooks';
import { project } from '../state/document-store.ts';
import { newJob, openDemo, saveJob } from '../state/file-actions.ts';
import { type ThemeChoice, theme } from '../state/preferences.ts';
import { offers } from '../state/recovery.ts';
import { dialog, side, view } from '../state/view-state.ts';

interface Item {
  readonly title: string;
  readonly keys?: string;
  readonly act: () => void;
  readonly off?: boolean;
}

function items(): readonly Item[] {
  const none = project.value === null;
  return [
    { title: 'New job', act: () => void newJob() },
    { title: 'Open the demo as a copy', act: () => void openDemo() },
    { title: 'Save as', keys: 'Ctrl+Shift+S', off: none, act: () => void saveJob('new') },
    {
      title: 'Import report',
      off: (project.value?.source ?? null) === null,
      act: () => {
        view.value = 'import';
      },
    },
    {
      title: 'Columns shown',
      off: none,
      act: () => {
        dialog.value = 'columns';
      },
    },
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
    {
      title: 'Help: columns and keys',
      act: () => {
        dialog.value = 'help';
      },
    },
    {
      title: 'Caution',
      act: () => {
        dialog.value = 'caution';
      },
    },
    {
      title: 'About Runledger',
      act: () => {
        dialog.value = 'about';
      },
    },
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
                  theme.value = choice;
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
