import { side } from '../state/view-state.ts';
import { FindingsList } from './findings-list.tsx';
import { RunPanel } from './run-panel.tsx';

/** Beside the grid: the run at hand, or all findings to walk through. */
export function SidePanel() {
  if (side.value === 'closed') return null;
  const faces = [
    ['run', 'Run at hand'],
    ['findings', 'All findings'],
  ] as const;
  return (
    <aside
      class="side"
      aria-label="Run at hand and findings"
      data-pane
      data-after-grid
      tabIndex={-1}
    >
      <div class="side-head">
        <div class="side-tabs" role="tablist" aria-label="Beside the schedule">
          {faces.map(([face, title]) => (
            <button
              key={face}
              type="button"
              role="tab"
              id={`side-tab-${face}`}
              aria-selected={side.value === face}
              aria-controls="side-body"
              onClick={() => {
                side.value = face;
              }}
            >
              {title}
            </button>
          ))}
        </div>
        <button
          type="button"
          class="side-close"
          aria-label="Close this side"
          onClick={() => {
            side.value = 'closed';
          }}
        >
          ×
        </button>
      </div>
      <div
        class="side-body"
        id="side-body"
        role="tabpanel"
        aria-labelledby={`side-tab-${side.value}`}
      >
        {side.value === 'run' ? <RunPanel /> : <FindingsList />}
      </div>
    </aside>
  );
}
