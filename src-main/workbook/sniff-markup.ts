/** Files of text that are no table: pages, XML of other kinds, JSON. */

const MOST_JSON_BYTES = 1_000_000;

function isJson(opening: string, bytes: Uint8Array): boolean {
  if (/^(?:\[\s*)?\{\s*"[^"]*"\s*:/.test(opening)) return true;
  // A title may well begin with a bracket: only what is JSON as a whole counts.
  if (!/^[[{]/.test(opening) || bytes.length > MOST_JSON_BYTES) return false;
  try {
    JSON.parse(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('utf8'));
    return true;
  } catch {
    return false;
  }
}

/**
 * The kind of a file of markup, or undefined for other text.
 * @param head its first bytes as Latin-1, without mark
 */
export function markupKind(
  head: string,
  bytes: Uint8Array,
): 'html' | 'xml-workbook' | 'xml-file' | 'json' | undefined {
  const opening = head.trimStart().toLowerCase();
  if (/^(<!--|<!doctype html|<html|<head|<body|<table|<meta)/.test(opening)) return 'html';
  if (/^<(\?xml|!doctype|workbook|office:document)/.test(opening)) {
    if (/<html[\s>]/.test(opening)) return 'html';
    const tables =
      /urn:schemas-microsoft-com:office:spreadsheet|progid="excel\.sheet"|<office:document[\s>]/;
    return tables.test(opening) ? 'xml-workbook' : 'xml-file';
  }
  return isJson(opening, bytes) ? 'json' : undefined;
}
