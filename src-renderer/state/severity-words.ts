/** Severity as letter and word: never colour alone. */
import type { Finding } from '../../src-shared/limits/finding.ts';
import type { Severity } from '../../src-shared/limits/limit.ts';

export const severityLetter: Readonly<Record<Severity, string>> = {
  stop: 'S',
  breach: 'B',
  watch: 'W',
  note: 'N',
  'not-checked': '?',
};

export const severityWord: Readonly<Record<Severity, string>> = {
  stop: 'stop',
  breach: 'breach',
  watch: 'watch',
  note: 'note',
  'not-checked': 'not checked',
};

/** The worst of findings already in order; null for none. */
export function worstOf(findings: readonly Finding[]): Severity | null {
  return findings[0]?.severity ?? null;
}
