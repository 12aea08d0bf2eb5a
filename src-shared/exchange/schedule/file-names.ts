import type { SourceWorkbook } from '../../document/source-workbook.ts';

/** The workbooks with every file name once: cells and remarks are told apart by it. */
export function uniqueFileNames(workbooks: readonly SourceWorkbook[]): readonly SourceWorkbook[] {
  const taken = new Set<string>();
  return workbooks.map((workbook) => {
    const { fileName } = workbook;
    let name = fileName;
    for (let n = 2; taken.has(name.toLowerCase()); n += 1) {
      name = fileName.replace(/(\.[^.]*)?$/u, ` (${n})$1`);
    }
    taken.add(name.toLowerCase());
    return name === fileName ? workbook : { ...workbook, fileName: name };
  });
}
