import { useEffect, useState } from 'preact/hooks';
import type { Finding } from '../../src-shared/limits/finding.ts';
import { remediesFor } from '../../src-shared/session/remedies.ts';
import { solved, solves } from '../state/document-store.ts';

/** Trying remedies solves runs anew: it waits until typing has paused. */
const pauseMs = 180;

interface Tried {
  readonly finding: Finding;
  readonly list: readonly string[];
}

/** What was tried against a finding and holds at every supply level. */
export function Remedies({ finding }: { readonly finding: Finding }) {
  const [tried, setTried] = useState<Tried | null>(null);
  const version = solves.value;
  useEffect(() => {
    const timer = setTimeout(() => {
      const session = solved();
      if (session === null) return;
      setTried({ finding, list: version === 0 ? [] : remediesFor(finding, session) });
    }, pauseMs);
    return () => clearTimeout(timer);
  }, [finding, version]);
  if (tried === null || tried.finding !== finding || tried.list.length === 0) return null;
  return (
    <ul class="remedies" aria-label="Tried, and it holds">
      {tried.list.map((remedy) => (
        <li key={remedy}>{remedy}</li>
      ))}
    </ul>
  );
}
