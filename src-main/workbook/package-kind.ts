import type { PackageParts } from './package-parts.ts';
import { GET_A_FRESH_COPY, refuse, SAVE_AS_XLSX } from './refusal.ts';
import { readRelationships } from './relationships.ts';

/** Entry that makes a zip container a saved project. */
export const PROJECT_ENTRY = 'runledger.json';

const CONTENT_TYPES = '[Content_Types].xml';

/** Packages that are no workbook of ours, by the names of their parts. */
interface OtherPackage {
  readonly code: string;
  readonly what: string;
  readonly todo: string;
  readonly is: (parts: PackageParts, keys: readonly string[]) => boolean;
}

const inFolder = (folder: string) => (_: PackageParts, keys: readonly string[]) =>
  keys.some((key) => key.startsWith(`${folder}/`));

const OTHERS: readonly OtherPackage[] = [
  {
    code: 'binary-workbook',
    what: 'This is a workbook in the binary form (.xlsb).',
    todo: SAVE_AS_XLSX,
    is: (parts) => parts.has('xl/workbook.bin'),
  },
  {
    code: 'other-office',
    what: 'This is a text document, not a workbook.',
    todo: SAVE_AS_XLSX,
    is: inFolder('word'),
  },
  {
    code: 'presentation',
    what: 'This is a presentation, not a workbook.',
    todo: SAVE_AS_XLSX,
    is: inFolder('ppt'),
  },
  {
    code: 'drawing',
    what: 'This is a drawing, not a workbook.',
    todo: SAVE_AS_XLSX,
    is: inFolder('visio'),
  },
  {
    code: 'open-document',
    what: 'This is an OpenDocument file (.ods or its kin).',
    todo: SAVE_AS_XLSX,
    is: (parts) => parts.has('content.xml') && parts.has('mimetype'),
  },
  {
    code: 'other-sheet',
    what: 'This is a document of a spreadsheet program with a form of its own.',
    todo: 'Export it from that program as .xlsx or .csv and open that.',
    is: (_, keys) => keys.some((key) => key.endsWith('.iwa')),
  },
];

function refuseMissing(parts: PackageParts, name: string, keys: readonly string[]): never {
  const { fileName } = parts;
  if (keys.some((key) => key.startsWith('xl/')) || parts.has(CONTENT_TYPES)) {
    const what = 'The workbook lacks its main part, the list of its sheets.';
    refuse('missing-workbook', what, parts.where(name), GET_A_FRESH_COPY);
  }
  refuse(
    'other-zip',
    'This is a zip file, but there is no workbook in it.',
    fileName,
    'Unpack it and open the workbook or csv file inside.',
  );
}

/**
 * The name of the workbook part of a package.
 * @param remarks takes what is missing but not needed
 * @throws RefusalError with a word of its own for macros, other office files and other zip files
 */
export function findWorkbookPart(parts: PackageParts, remarks: string[]): string {
  const { fileName } = parts;
  const keys = [...parts.keys()];
  if (keys.some((key) => /(^|\/)vbaproject\.bin$|^xl\/(macrosheets|intlmacrosheets)\//.test(key))) {
    refuse(
      'macros',
      'The workbook carries macros (programs). Runledger does not take such files in.',
      fileName,
      'Open it in a spreadsheet program and save it as .xlsx, which leaves the macros out.',
    );
  }
  const other = OTHERS.find(({ is }) => is(parts, keys));
  if (other) refuse(other.code, other.what, fileName, other.todo);
  const links = [...readRelationships(parts, '').values()].filter(
    (link) => link.kind === 'officeDocument',
  );
  const outside = links.find((link) => link.outside);
  if (outside) {
    const what = 'The list of sheets is said to lie outside of the file; nothing outside is read.';
    refuse('outside-workbook', what, parts.where('_rels/.rels'), GET_A_FRESH_COPY);
  }
  const name = links.find((link) => parts.has(link.target))?.target ?? 'xl/workbook.xml';
  if (!parts.has(name)) refuseMissing(parts, links[0]?.target || name, keys);
  const lacking = [CONTENT_TYPES, '_rels/.rels'].filter((part) => !parts.has(part));
  if (lacking.length > 0) {
    const verb = lacking.length === 1 ? 'was' : 'were';
    remarks.push(
      `The workbook lacks ${lacking.join(' and ')}, which ${verb} not needed to read it; other programs may not open it.`,
    );
  }
  return name;
}
