/** Options of the check command as answers of the document, so that there is one way to be read. */
import { isSourceColumnId } from '../../columns/column-table.ts';
import { noAnswers } from '../../document/import-answers.ts';
import type { ImportAnswers } from '../../document/project.ts';
import { headerWords } from './header-words.ts';
import type { PlannedFile } from './planned-file.ts';
import { badOption, type ReadRefusal } from './read-refusal.ts';

export interface AskedOptions {
  readonly sheet?: string;
  readonly headerRow?: number;
  readonly map?: ReadonlyMap<string, string>;
  readonly hidden?: 'read' | 'skip';
  readonly answers?: ImportAnswers;
}

/** A word of `--map` that is no column id, or one that two headers would both have; null: none. */
export function refuseMapIds(map: ReadonlyMap<string, string>): ReadRefusal | null {
  const takenBy = new Map<string, string>();
  for (const [header, id] of map) {
    const option = `--map ${header}=${id}`;
    if (id !== '' && !isSourceColumnId(id)) {
      const todo =
        'Use a column id such as tag, span or load, or nothing to carry the column along.';
      return badOption(option, `"${id}" is no column id.`, todo);
    }
    const other = id === '' ? undefined : takenBy.get(id);
    if (other !== undefined) {
      const what = `"${other}" and "${header}" cannot both be ${id}.`;
      return badOption(option, what, 'Give each column id to one header.');
    }
    takenBy.set(id, header);
  }
  return null;
}

/** A header of `--map` that no sheet has. */
export function refuseMapHeaders(
  map: ReadonlyMap<string, string>,
  planned: readonly PlannedFile[],
): ReadRefusal | null {
  const plans = planned.flatMap(({ parts }) => parts.map(({ plan }) => plan));
  for (const [header, id] of map) {
    const option = `--map ${header}=${id}`;
    if (!plans.some((plan) => plan.givenUsed.has(header))) {
      const headers = plans.flatMap((plan) => plan.columns.map((column) => `"${column.header}"`));
      const todo = `The headers are ${[...new Set(headers)].slice(0, 40).join(', ')}.`;
      return badOption(option, `There is no header "${header}" in the header row.`, todo);
    }
  }
  return null;
}

/** The answers with what the map and the choice of hidden rows add. */
export function foldAnswers(options: AskedOptions, files: number): ImportAnswers {
  const answers = options.answers ?? noAnswers;
  const mapped = [...(options.map ?? [])].map(([header, id]) => ({
    header,
    columnId: id === '' ? null : id,
  }));
  const words = new Set(mapped.map(({ header }) => headerWords(header)));
  const columns = answers.columns.filter(({ header }) => !words.has(headerWords(header)));
  const { hidden } = options;
  const others = answers.questions.filter((q) => hidden === undefined || q.id !== 'hidden-rows');
  const asked =
    hidden !== 'read'
      ? []
      : Array.from({ length: files }, (_, file) => ({
          id: 'hidden-rows' as const,
          file,
          value: hidden,
        }));
  return { ...answers, columns: [...columns, ...mapped], questions: [...others, ...asked] };
}

/** The answers with the sheet and header row that the options named, once they are found. */
export function foldSheet(
  answers: ImportAnswers,
  options: AskedOptions,
  [first]: readonly PlannedFile[],
): ImportAnswers {
  if (first === undefined || (options.sheet === undefined && options.headerRow === undefined)) {
    return answers;
  }
  const sheets = first.parts.map((part) => ({ file: 0, sheet: part.sheet.name }));
  const others = (answers.sheets ?? []).filter(({ file }) => file !== 0);
  const named = { ...answers, sheets: [...sheets, ...others] };
  const row = options.headerRow;
  const part = first.parts.find(({ header }) => header.row === row || header.upperRow === row);
  if (row === undefined || part === undefined) return named;
  const sheet = part.sheet.name;
  const rows = answers.headerRows.filter((h) => h.file !== 0 || h.sheet !== sheet);
  return { ...named, headerRows: [...rows, { file: 0, sheet, row }] };
}
