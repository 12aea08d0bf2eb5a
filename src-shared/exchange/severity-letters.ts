import { type Severity, severities } from '../limits/limit.ts';

/** The letter in a mark: severity is never told by colour alone. */
export const severityLetters: Readonly<Record<Severity, string>> = {
  stop: 'S',
  breach: 'B',
  watch: 'W',
  note: 'N',
  'not-checked': '?',
};

export const severityWords: Readonly<Record<Severity, string>> = {
  stop: 'stop',
  breach: 'breach',
  watch: 'watch',
  note: 'note',
  'not-checked': 'not checked',
};

/** `S stop, B breach, W watch, N note, ? not checked` */
export const letterLegend: string = severities
  .map((severity) => `${severityLetters[severity]} ${severityWords[severity]}`)
  .join(', ');

/** Start of what a marked number cell shows: letter and blank, from its number format. */
export function markPrefix(severity: Severity): string {
  return `${severityLetters[severity]} `;
}

const marked = /^[SBWN?] +(?=[-−+.\d])/u;

/** What a number cell shows, without the letter our export puts before it: `S 347` is `347`. */
export function withoutMark(shown: string): string {
  return shown.replace(marked, '');
}
