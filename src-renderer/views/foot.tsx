import { planningAidSentence } from '../../src-shared/exchange/export/safety-words.ts';
import { type Severity, severities } from '../../src-shared/limits/limit.ts';
import { counts, project } from '../state/document-store.ts';
import { severityWord } from '../state/severity-words.ts';
import { shownSeverities, side, view } from '../state/view-state.ts';
import { Mark } from './mark.tsx';

function show(severity: Severity): void {
  shownSeverities.value = new Set([severity]);
  view.value = 'schedule';
  side.value = 'findings';
}

/** Always there: what was found, what was not checked, and what this tool is. */
export function Foot() {
  const now = project.value;
  const { stop, breach, notChecked } = counts.value;
  return (
    <footer class="foot" data-pane>
      {now !== null && (
        <div class="foot-counts">
          {severities.map((severity) => {
            const count = severity === 'not-checked' ? notChecked : counts.value[severity];
            return (
              <button
                key={severity}
                type="button"
                onClick={() => show(severity)}
                title={`Show the findings: ${severityWord[severity]}`}
              >
                <Mark severity={severity} />
                <span>
                  {count} <span class="foot-word">{severityWord[severity]}</span>
                </span>
              </button>
            );
          })}
          {stop + breach === 0 && now.fixtures.length > 0 && (
            <span class="foot-sentence">
              No limit found broken with the data given; {notChecked} not checked.
            </span>
          )}
        </div>
      )}
      <p class="foot-aid" title={planningAidSentence}>
        {planningAidSentence}
      </p>
    </footer>
  );
}
