/**
 * Text that a spreadsheet program would take for a formula is written to csv with an apostrophe in
 * front (the usual guard). Text that already looks guarded gets one more, so that reading undoes
 * exactly what writing did.
 */
const NEEDS_GUARD = /^'*[=+\-@\t\r]/;
const IS_GUARDED = /^'+[=+\-@\t\r]/;

/** Text as written to a csv cell. Numbers are not passed through here. */
export function guardCsvText(text: string): string {
  return NEEDS_GUARD.test(text) ? `'${text}` : text;
}

/** The text `guardCsvText` was given; other text unchanged. */
export function unguardCsvText(text: string): string {
  return IS_GUARDED.test(text) ? text.slice(1) : text;
}
