import { chooseFile, newJob, openArrived, openDemo } from '../state/file-actions.ts';
import { offers } from '../state/recovery.ts';
import { recentFiles } from '../state/start.ts';
import { dialog } from '../state/view-state.ts';

/** Nothing is open: the three ways to begin. */
export function EmptyState() {
  return (
    <main class="empty" data-pane>
      <svg class="empty-line" viewBox="0 0 560 60" aria-hidden="true">
        <rect x="8" y="18" width="24" height="24" class="panel-box" />
        <line x1="32" x2="90" y1="30" y2="30" class="home-run" />
        {[0, 1, 2, 3, 4, 5, 6, 7].map((n) => (
          <line
            key={n}
            x1={90 + n * 54}
            x2={144 + n * 54}
            y1="30"
            y2="30"
            class="line-solved"
            stroke-width={9 - n}
          />
        ))}
        <rect x="82" y="20" width="16" height="20" class="line-box" />
        {[1, 2, 3, 4, 5, 6, 7, 8].map((n) => (
          <circle key={n} cx={90 + n * 54} cy="30" r="6" class="tap" />
        ))}
        <line x1="534" x2="534" y1="20" y2="40" class="line-end" />
      </svg>
      <h1>Open a fixture schedule</h1>
      <p>
        An .xlsx or .csv as it came from the lighting designer, or a saved job. Drop it anywhere in
        this window. Your file is read, never changed.
      </p>
      <div class="empty-acts">
        <button type="button" class="chief" onClick={() => void chooseFile()}>
          Open a file
        </button>
        <button type="button" onClick={() => void openDemo()}>
          Open the demo as a copy
        </button>
        <button type="button" onClick={() => void newJob()}>
          Begin an empty job
        </button>
      </div>
      <p class="quiet">
        The demo is an invented museum: 90 fixtures on six runs, with eight mistakes to find.
      </p>
      {recentFiles.value.length > 0 && (
        <section class="recent" aria-labelledby="recent-title">
          <h2 id="recent-title">Opened lately</h2>
          <ul>
            {recentFiles.value.map((file) => (
              <li key={file.fileId}>
                <button type="button" onClick={() => void openArrived(file)}>
                  {file.name}
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
      {offers.value.length > 0 && (
        <button
          type="button"
          class="offer"
          onClick={() => {
            dialog.value = 'recoveries';
          }}
        >
          {offers.value.length} unsaved {offers.value.length === 1 ? 'job was' : 'jobs were'}{' '}
          recovered
        </button>
      )}
    </main>
  );
}
