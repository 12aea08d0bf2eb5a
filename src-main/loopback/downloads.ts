/** Names in headers: of uploads coming in and of downloads going out. */

/** Name of an upload from its URI-encoded header; null when it is missing or cannot be decoded. */
export function uploadName(header: string | string[] | undefined): string | null {
  if (typeof header !== 'string') return null;
  try {
    const name = decodeURIComponent(header).split(/[\\/]/).pop() ?? '';
    return name === '' || name.length > 255 ? null : name;
  } catch {
    return null;
  }
}

/** `Content-Disposition` of a download (RFC 6266, with the name in RFC 8187 form). */
export function attachment(name: string): string {
  const plain = name.replace(/[^\x20-\x7e]|["\\%]/g, '_');
  const encoded = encodeURIComponent(name).replace(
    /['()*]/g,
    (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`,
  );
  return `attachment; filename="${plain}"; filename*=UTF-8''${encoded}`;
}
