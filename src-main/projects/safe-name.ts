/* File names that every system takes, made of names that came from elsewhere. */

/** File name without folders, whatever their separators, and without halves of characters. */
export function bareName(name: string): string {
  const last = name.split(/[\\/]/).pop() ?? '';
  return Buffer.from(last, 'utf8').toString('utf8');
}

// Names and signs Windows keeps for itself ("Naming Files, Paths, and Namespaces", Microsoft Learn).
const RESERVED = /^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(\.|$)/i;
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what must go
const UNFIT = /[\u0000-\u001f\u007f<>:"/\\|?*\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]/g;

/**
 * A plain file name with the extension given (`.xlsx`): no folders, no sign a file system refuses,
 * no character that hides or turns text around, at most 120 characters. Empty: `fallback`.
 */
export function safeFileName(name: string, extension: string, fallback = 'schedule'): string {
  let stem = bareName(name).replace(UNFIT, ' ').replace(/\s+/g, ' ').trim();
  if (stem.toLowerCase().endsWith(extension)) stem = stem.slice(0, -extension.length);
  stem = [...stem].slice(0, 120 - extension.length).join('');
  stem = stem.replace(/^[. ]+|[. ]+$/g, '');
  if (stem === '') stem = fallback;
  return `${RESERVED.test(stem) ? '_' : ''}${stem}${extension}`;
}
