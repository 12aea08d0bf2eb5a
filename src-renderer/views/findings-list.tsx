import { type Severity, severities } from '../../src-shared/limits/limit.ts';
import { counts, findings } from '../state/document-store.ts';
import { severityWord } from '../state/severity-words.ts';
import { shownSeverities } from '../state/view-state.ts';
import { FindingCard } from './finding-card.tsx';
import { Mark } from './mark.tsx';

function toggle(severity: Severity): void {
  const next = new Set(shownSeverities.value);
  if (!next.delete(severity)) next.add(severity);
  shownSeverities.value = next;
}

const mostShown = 200;

function countOf(severity: Severity): number {
  return severity === 'not-checked' ? counts.value.notChecked : counts.value[severity];
}

/** All findings, worst first, by severity; each leads to its cell. */
export function FindingsList() {
  return (
    <div class="findings-list">
      <fieldset class="severity-filter">
        <legend class="heard">Severities shown</legend>
        {severities.map((severity) => (
          <label key={severity}>
            <input
              type="checkbox"
              checked={shownSeverities.value.has(severity)}
              onChange={() => toggle(severity)}
            />
            <Mark severity={severity} />
            <span aria-hidden="true">{severityWord[severity]}</span>
          </label>
        ))}
      </fieldset>
      {severities
        .filter((severity) => shownSeverities.value.has(severity) && countOf(severity) > 0)
        .map((severity) => (
          <SeverityGroup key={severity} severity={severity} />
        ))}
      {findings.value.length === 0 && <p class="quiet">No findings.</p>}
    </div>
  );
}

function SeverityGroup({ severity }: { readonly severity: Severity }) {
  const list = findings.value.filter((finding) => finding.severity === severity);
  const more = list.length - mostShown;
  return (
    <section>
      <h3>
        {list.length} {severityWord[severity]}
      </h3>
      <ul class="findings">
        {list.slice(0, mostShown).map((finding) => (
          <FindingCard key={finding.id} finding={finding} />
        ))}
      </ul>
      {more > 0 && <p class="quiet">{more} more of this severity; F8 walks through all.</p>}
    </section>
  );
}
