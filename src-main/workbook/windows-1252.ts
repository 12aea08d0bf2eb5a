/** Bytes 0x80 to 0x9F of windows-1252 (WHATWG Encoding Standard, index windows-1252); 0 stands for itself. */
const upper = [
  0x20ac, 0, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152,
  0, 0x017d, 0, 0, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161,
  0x203a, 0x0153, 0, 0x017e, 0x0178,
]; // biome-ignore format: a table

/** Text of windows-1252 bytes. Not by `TextDecoder`: in some releases of Node it reads 0x80 to 0x9F as control signs. */
export function decodeWindows1252(bytes: Uint8Array): string {
  const latin = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');
  return latin.replace(/[\x80-\x9f]/g, (sign) => {
    const code = upper[sign.charCodeAt(0) - 0x80] ?? 0;
    return code === 0 ? sign : String.fromCharCode(code);
  });
}
