import type { PackageParts } from './package-parts.ts';
import { GET_A_FRESH_COPY, refuse, SAVE_AS_XLSX } from './refusal.ts';
import { readRelationships } from './relationships.ts';

/** Entry that makes a zip container a saved project. */
export const PROJECT_ENTRY = 'runledger.json';

function refuseMacros(fileName: string): never {
  refuse(
    'macros',
    'The workbook carries macros (programs). Runledger does not take such files in.',
    fileName,
    'Open it in a spreadsheet program and save it as .xlsx, which leaves the macros out.',
  );
}

/**
 * The name of the workbook part of a package.
 * @throws RefusalError with a word of its own for macros, other office files and other zip files
 */
export function findWorkbookPart(parts: PackageParts): string {
  const { fileName } = parts;
  const keys = [...parts.keys()];
  if (keys.some((key) => /(^|\/)vbaproject\.bin$|^xl\/(macrosheets|intlmacrosheets)\//.test(key))) {
    refuseMacros(fileName);
  }
  const links = [...readRelationships(parts, '').values()];
  const main = links.find((link) => link.kind === 'officeDocument' && parts.has(link.target));
  const name = main?.target ?? 'xl/workbook.xml';
  if (name.toLowerCase().endsWith('.bin') || parts.has('xl/workbook.bin')) {
    refuse(
      'binary-workbook',
      'This is a workbook in the binary form (.xlsb).',
      fileName,
      SAVE_AS_XLSX,
    );
  }
  const folders = new Set(keys.map((key) => key.split('/')[0] ?? ''));
  if (folders.has('word') || folders.has('ppt') || folders.has('visio')) {
    const kind = folders.has('word') ? 'text document' : 'presentation or drawing';
    refuse('other-office', `This is a ${kind}, not a workbook.`, fileName, SAVE_AS_XLSX);
  }
  if (parts.has('content.xml') && parts.has('mimetype')) {
    refuse('open-document', 'This is an OpenDocument file.', fileName, SAVE_AS_XLSX);
  }
  if (parts.has(name)) return name;
  if (folders.has('xl') || parts.has('[Content_Types].xml')) {
    refuse(
      'missing-part',
      'The workbook lacks its main part.',
      parts.where(name),
      GET_A_FRESH_COPY,
    );
  }
  refuse(
    'other-zip',
    'This is a zip file, but there is no workbook in it.',
    fileName,
    'Unpack it and open the workbook or csv file inside.',
  );
}
