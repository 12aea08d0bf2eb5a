import type { Finding } from '../../src-shared/limits/finding.ts';
import { findings } from './document-store.ts';
import { atHand, showCell, shownSeverities } from './view-state.ts';

/** The cell a finding leads to: its first mark, else its first fixture. */
export function showFinding(finding: Finding): void {
  const [mark] = finding.marks;
  if (mark !== undefined) showCell(mark.fixtureId, mark.column);
  else {
    const [fixtureId] = finding.fixtureIds;
    if (fixtureId !== undefined) showCell(fixtureId, 'findings');
    else if (finding.run !== null) {
      atHand.value = { fixtureId: null, run: finding.run, column: null };
    }
  }
}

let latest: string | null = null;

/** Goes to the next finding of the severities shown, round and round. */
export function nextFinding(by: 1 | -1): void {
  const list = findings.value.filter((f) => shownSeverities.value.has(f.severity));
  if (list.length === 0) return;
  const at = list.findIndex((f) => f.id === latest);
  const next = list[(at + by + list.length) % list.length];
  if (next === undefined) return;
  latest = next.id;
  showFinding(next);
}
