import type { Severity } from '../../src-shared/limits/limit.ts';
import { severityLetter, severityWord } from '../state/severity-words.ts';

/** A severity: its letter to see, its word to hear. */
export function Mark({ severity }: { readonly severity: Severity }) {
  return (
    <>
      <span class={`mark mark-${severity}`} aria-hidden="true">
        {severityLetter[severity]}
      </span>
      <span class="heard">{severityWord[severity]}: </span>
    </>
  );
}
