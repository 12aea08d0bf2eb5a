/** Why a project file was not read: what is wrong, where, what to do. */
export interface FormatReason {
  /** Stable word: `not-json`, `not-a-project`, `newer-version`, `bad-value`, `bad-reference`, `bad-migration`. */
  readonly code: string;
  readonly what: string;
  readonly where: string;
  readonly todo: string;
}

/** What to do about project text that is not as this program wrote it. */
export const OPEN_A_BACKUP =
  'Open an earlier copy of the project or a recovery copy; this one was altered outside Runledger.';

/** `fixtures[3].loadW` from a list of keys. */
export function pathText(path: readonly PropertyKey[]): string {
  let text = '';
  for (const key of path) {
    if (typeof key === 'number') text += `[${key}]`;
    else text += text === '' ? String(key) : `.${String(key)}`;
  }
  return text.length > 120 ? `${text.slice(0, 117)}…` : text;
}
