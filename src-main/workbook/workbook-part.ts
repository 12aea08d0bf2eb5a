import type { PackageParts } from './package-parts.ts';
import { PART_ROOTS } from './part-roots.ts';
import { counted, READ_LIMITS } from './read-limits.ts';
import { GET_A_FRESH_COPY, MAKE_IT_SMALLER, refuse } from './refusal.ts';
import { attributeOf, isOn, walkXml } from './xml-walk.ts';

export interface ListedSheet {
  readonly name: string;
  readonly hidden: boolean;
  /** Id of the link to the sheet's part. */
  readonly linkId: string;
}

export interface WorkbookPart {
  readonly sheets: readonly ListedSheet[];
  readonly date1904: boolean;
  /** The writer asks for a full recalculation on opening: kept results may be stale. */
  readonly recalculates: boolean;
}

/** Far more than the 31 that programs allow. */
const LONGEST_SHEET_NAME = 255;

/**
 * Reads the list of sheets and the settings that change how cells are read.
 * @throws RefusalError `missing-workbook`, `sheets`, `sheet-name-long`, and those of reading a part
 */
export function readWorkbookPart(parts: PackageParts, name: string): WorkbookPart {
  const bytes = parts.read(name);
  if (!bytes) {
    const what = 'The workbook lacks its main part, the list of its sheets.';
    refuse('missing-workbook', what, parts.where(name), GET_A_FRESH_COPY);
  }
  const sheets: ListedSheet[] = [];
  let date1904 = false;
  let recalculates = false;
  walkXml(
    bytes,
    parts.where(name),
    {
      open(element, attributes) {
        if (element === 'sheet') {
          const title = attributeOf(attributes, 'name') ?? `Sheet ${sheets.length + 1}`;
          if (title.length > LONGEST_SHEET_NAME) {
            const what = `The name of a sheet has more than ${counted(LONGEST_SHEET_NAME)} characters.`;
            refuse('sheet-name-long', what, parts.where(name), GET_A_FRESH_COPY);
          }
          const state = attributeOf(attributes, 'state')?.toLowerCase();
          sheets.push({
            name: title,
            hidden: state === 'hidden' || state === 'veryhidden',
            linkId: attributeOf(attributes, 'id') ?? '',
          });
          if (sheets.length > READ_LIMITS.sheets) {
            refuse(
              'sheets',
              `The workbook has more than ${counted(READ_LIMITS.sheets)} sheets.`,
              parts.fileName,
              MAKE_IT_SMALLER,
            );
          }
        } else if (element === 'workbookPr') date1904 = isOn(attributeOf(attributes, 'date1904'));
        else if (element === 'calcPr') {
          recalculates = isOn(attributeOf(attributes, 'fullCalcOnLoad'));
        }
      },
    },
    PART_ROOTS.workbook,
  );
  return { sheets, date1904, recalculates };
}
