/** Notes our export has written, which are no news when the file comes back. */
import { severities } from '../../limits/limit.ts';
import { severityLetters, severityWords } from '../export/severity-letters.ts';
import { cleanText } from './cell-text.ts';

const marks = severities
  .map(
    (severity) => `${severityLetters[severity].replace('?', '\\?')} ${severityWords[severity]}: `,
  )
  .join('|');
const ours = new RegExp(
  `(?:^|\\n\\s*\\n)\\s*(?:${marks}|Not as in the source file|A row that is not in the source file|Struck through in the source: |Not known: what the source file has here)`,
  'u',
);

/** What is left of a note without what our export wrote into it; `''`: nothing. */
export function foreignNote(note: string, ownExport: boolean): string {
  const at = ownExport ? note.search(ours) : -1;
  return cleanText(at < 0 ? note : note.slice(0, at));
}
