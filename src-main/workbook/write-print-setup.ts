/** Page set-up shared by every sheet of the export. */
import type { HeaderFooter, PageSetup } from 'exceljs';
import { planningAidSentence } from '../../src-shared/exchange/export/safety-words.ts';

export interface PrintFrame {
  readonly jobName: string;
  readonly revision: string | null;
  /** Date of issue as it is to be printed; null: none. */
  readonly date: string | null;
  /** Number of the paper in ECMA-376 part 1, 18.3.1.63: 1 Letter, 3 Tabloid, 8 A3, 9 A4. */
  readonly paper: 1 | 3 | 8 | 9;
}

/** Most characters of a header or footer, its codes included. */
const LONGEST_FOOTER = 255;

/** Text inside a header or footer: `&` begins a code there. */
function plainText(text: string, length: number): string {
  return text.replace(/\s+/gu, ' ').trim().slice(0, length).replaceAll('&', '&&');
}

/**
 * Landscape, all columns on one page's width, the header row on each page, the planning-aid
 * sentence at the foot and job, revision and date at the head.
 */
export function printSetup(
  { jobName, revision, date, paper }: PrintFrame,
  headerRow: number | null,
): { pageSetup: Partial<PageSetup>; headerFooter: Partial<HeaderFooter> } {
  const edition = revision === null ? '' : `, revision ${plainText(revision, 30)}`;
  const issued = date === null ? '' : `&R&8 ${plainText(date, 40)}`;
  const head = `&L&8 ${plainText(jobName, 70)}${edition}&C&8&A${issued}`;
  const foot = `&L&7 ${planningAidSentence}&R&8 &P / &N`;
  return {
    pageSetup: {
      paperSize: paper as unknown as NonNullable<PageSetup['paperSize']>,
      orientation: 'landscape',
      fitToPage: true,
      fitToWidth: 1,
      fitToHeight: 0,
      margins: { left: 0.4, right: 0.4, top: 0.7, bottom: 0.65, header: 0.3, footer: 0.3 },
      ...(headerRow === null ? {} : { printTitlesRow: `${headerRow}:${headerRow}` }),
    },
    headerFooter: {
      oddHeader: head.slice(0, LONGEST_FOOTER),
      oddFooter: foot.slice(0, LONGEST_FOOTER),
    },
  };
}
