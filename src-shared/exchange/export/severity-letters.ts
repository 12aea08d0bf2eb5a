import { type Severity, severities } from '../../limits/limit.ts';

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

/**
 * Number format that shows the severity's letter before what `format` shows: `"S "* 0.00` has the
 * letter at the left edge and the number at the right one. The value of the cell stays what it is.
 */
export function markedFormat(severity: Severity, format: string): string {
  const fill = format.includes('@') ? '' : '* ';
  return `"${severityLetters[severity]} "${fill}${format}`;
}

const mark = /^"[SBWN?] "(?:\* )?(?=.)/u;

/** A number format without the letter `markedFormat` put before it; any other stays as it is. */
export function withoutMark(format: string): string {
  return format.replace(mark, '');
}
