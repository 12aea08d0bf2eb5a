import { project } from '../state/document-store.ts';
import { type ViewId, view, viewIds, viewTitles } from '../state/view-state.ts';

/** Count behind a tab's name, where it says something. */
function countOf(id: ViewId): number | null {
  const now = project.value;
  if (now === null) return null;
  if (id === 'schedule') return now.fixtures.length;
  if (id === 'runs' || id === 'types' || id === 'lines' || id === 'supplies') return now[id].length;
  return null;
}

export function Tabs() {
  const shown = viewIds.filter((id) => id !== 'import' || (project.value?.source ?? null) !== null);
  const move = (event: KeyboardEvent) => {
    const by = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0;
    if (by === 0) return;
    event.preventDefault();
    const at = shown.indexOf(view.value);
    const next = shown[(at + by + shown.length) % shown.length] ?? 'schedule';
    view.value = next;
    document.getElementById(`tab-${next}`)?.focus();
  };
  return (
    <div class="tabs" role="tablist" aria-label="Views" data-pane onKeyDown={move}>
      {shown.map((id) => {
        const count = countOf(id);
        return (
          <button
            key={id}
            id={`tab-${id}`}
            type="button"
            role="tab"
            aria-selected={view.value === id}
            aria-controls="view"
            tabIndex={view.value === id ? 0 : -1}
            onClick={() => {
              view.value = id;
            }}
          >
            {viewTitles[id]}
            {count !== null && <span class="tab-count">{count}</span>}
          </button>
        );
      })}
    </div>
  );
}
