/** Hidden rows below the headers: skipped until the engineer says otherwise. */
import type { ImportAnswers, ImportQuestion } from '../../document/project.ts';
import type { SheetPart } from './sheet-part.ts';

/** The question whether hidden rows are read; null where the sheets that are read have none. */
export function hiddenQuestion(
  parts: readonly SheetPart[],
  file: number,
  fileName: string,
  answers: ImportAnswers,
): ImportQuestion | null {
  let filtered = 0;
  const places = parts.flatMap(({ sheet, header }) => {
    const hidden = sheet.rows.filter((row) => row.number > header.row && row.hidden);
    filtered += hidden.filter((row) => row.filtered === true).length;
    const numbers = hidden.map((row) => row.number);
    return numbers.length === 0 ? [] : [{ sheet: sheet.name, numbers }];
  });
  const count = places.reduce((sum, { numbers }) => sum + numbers.length, 0);
  if (count === 0) return null;
  const where = places
    .map(({ sheet, numbers }) => {
      const shown = numbers.slice(0, 8).join(', ');
      return `${sheet}: ${numbers.length > 8 ? `${shown} …` : shown}`;
    })
    .join('; ');
  const byFilter =
    filtered === 0
      ? ''
      : filtered === count
        ? ', by a filter'
        : `, ${filtered} of them by a filter`;
  const answer = answers.questions.find((q) => q.id === 'hidden-rows' && q.file === file)?.value;
  const rows = count === 1 ? '1 row is' : `${count} rows are`;
  return {
    id: 'hidden-rows',
    file,
    text: `${rows} hidden in ${fileName}${byFilter} (${where}). Are they part of the schedule?`,
    choices: [
      { value: 'skip', title: 'Leave hidden rows out' },
      { value: 'read', title: 'Read hidden rows like the others' },
    ],
    chosen: answer === 'read' ? 'read' : 'skip',
    answered: answer !== undefined,
  };
}
