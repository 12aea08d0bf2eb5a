import { counted } from './read-limits.ts';
import { GET_A_FRESH_COPY, refuse } from './refusal.ts';

/** Where a parser stands. */
interface ParserPlace {
  readonly line: number;
  readonly columnIndex: number;
}

/** What the parser says of a fault, and our code and words for it. */
const FAULTS: readonly (readonly [says: RegExp, code: string, what: string])[] = [
  [
    /disallowed character\.$|malformed character entity/,
    'xml-character',
    'A part of the workbook holds a character that XML does not allow, such as NUL',
  ],
  [
    /entity/,
    'xml-entity',
    'A part of the workbook uses an abbreviation (entity) that it does not define',
  ],
  [
    /duplicate attribute/,
    'xml-attribute-twice',
    'An element of the workbook has the same attribute twice',
  ],
  [
    /unclosed|unexpected end|must contain a root/,
    'xml-unfinished',
    'A part of the workbook ends before it is complete',
  ],
];

/**
 * Ends the reading of a part that is not well-formed XML, with the place. Throws `RefusalError`.
 * @param error what the parser threw
 * @param size of the part in bytes
 */
export function refuseBrokenXml(
  error: unknown,
  size: number,
  place: ParserPlace,
  where: string,
): never {
  const message = error instanceof Error ? error.message : '';
  if (size === 0) {
    refuse('part-empty', 'A part of the workbook is empty.', where, GET_A_FRESH_COPY);
  }
  const at = `line ${counted(place.line)}, sign ${counted(place.columnIndex)}`;
  const [, code, what] = FAULTS.find(([says]) => says.test(message)) ?? [];
  refuse(
    code ?? 'xml',
    `${what ?? 'A part of the workbook is not well-formed XML'} (${at}).`,
    where,
    GET_A_FRESH_COPY,
  );
}
