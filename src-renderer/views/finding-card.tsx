import type { Finding } from '../../src-shared/limits/finding.ts';
import { showFinding } from '../state/walk-findings.ts';
import { Mark } from './mark.tsx';
import { Remedies } from './remedies.tsx';

export interface FindingCardProps {
  readonly finding: Finding;
  /** Try remedies and show those that hold. */
  readonly withRemedies?: boolean;
}

/** The sentence's head, and the rest with the numbers. */
export function splitMessage(message: string): readonly [string, string] {
  const end = message.indexOf('. ');
  return end < 0 ? [message, ''] : [message.slice(0, end + 1), message.slice(end + 2)];
}

/** A finding with its numbers, basis and remedies; pressing it goes to its cell. */
export function FindingCard({ finding, withRemedies = false }: FindingCardProps) {
  const [head, rest] = splitMessage(finding.message);
  return (
    <li class={`finding finding-${finding.severity}`}>
      <button type="button" class="finding-go" onClick={() => showFinding(finding)}>
        <span class="finding-mark">
          <Mark severity={finding.severity} />
        </span>
        <span class="finding-words">
          <strong>{head}</strong> {rest}
        </span>
      </button>
      {withRemedies && <Remedies finding={finding} />}
      <p class="basis">{finding.basis}</p>
    </li>
  );
}
