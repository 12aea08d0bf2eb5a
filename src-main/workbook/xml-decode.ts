import { GET_A_FRESH_COPY, refuse } from './refusal.ts';

interface Encoding {
  readonly label: string;
  /** The part names it itself; else it follows from the first bytes. */
  readonly stated: boolean;
}

/** How a part is encoded: by its mark, by the zeros between its first signs, else as it says. */
function encodingOf(bytes: Uint8Array): Encoding {
  const [first, second, third, fourth] = bytes;
  if (first === 0xff && second === 0xfe) return { label: 'utf-16le', stated: false };
  if (first === 0xfe && second === 0xff) return { label: 'utf-16be', stated: false };
  if (first === 0x3c && second === 0 && third !== 0) return { label: 'utf-16le', stated: false };
  if (first === 0 && second === 0x3c && fourth !== 0) return { label: 'utf-16be', stated: false };
  const head = Buffer.from(bytes.subarray(0, 200)).toString('latin1');
  const label = /^(?:ï»¿)?<\?xml[^>]*\sencoding\s*=\s*["']([^"'<>&]*)["']/.exec(head)?.[1];
  // Text that could be read up to here is not UTF-16, whatever it says: some writers say so.
  if (label === undefined || /^utf-?16/i.test(label)) return { label: 'utf-8', stated: false };
  return { label, stated: true };
}

/**
 * A decoder for a part (XML 1.0, 4.3.3 and appendix F). Feed it with `stream: true`.
 * @throws RefusalError `xml-encoding` for an encoding nobody knows
 */
export function xmlDecoder(bytes: Uint8Array, where: string): InstanceType<typeof TextDecoder> {
  const { label, stated } = encodingOf(bytes);
  try {
    return new TextDecoder(label, { fatal: true });
  } catch {
    const name = stated ? label.slice(0, 40).replace(/[^\w.:+-]/g, '?') : label;
    refuse(
      'xml-encoding',
      `A part of the workbook says that it is written in an encoding called "${name}", which is not known.`,
      where,
      GET_A_FRESH_COPY,
    );
  }
}

/** Ends the reading of a part whose bytes are not what its encoding allows. Throws `RefusalError`. */
export function refuseBytes(decoder: InstanceType<typeof TextDecoder>, where: string): never {
  refuse(
    'xml-bytes',
    `A part of the workbook holds bytes that are no text in the encoding it says it has (${decoder.encoding}).`,
    where,
    GET_A_FRESH_COPY,
  );
}
