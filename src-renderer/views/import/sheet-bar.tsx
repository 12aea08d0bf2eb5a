import type { ScheduleSource } from '../../../src-shared/document/project.ts';
import type { PreviewSheet } from '../../../src-shared/exchange/preview/preview-sheet.ts';
import { readHeaderIn, readSheet } from '../../state/import-acts.ts';
import { showSheet } from '../../state/import-preview.ts';
import { ChoiceSelect } from './choice-select.tsx';
import type { RowChoice } from './preview-rows.ts';

interface SheetProps {
  readonly sheet: PreviewSheet;
  readonly shown: boolean;
  readonly rows: string;
}

/** One sheet: whether it is read, and the way to look at it. */
function SheetEntry({ sheet, shown, rows }: SheetProps) {
  return (
    <li class={shown ? 'sheet-entry sheet-shown' : 'sheet-entry'}>
      <input
        type="checkbox"
        aria-label={`Sheet ${sheet.sheet} is part of the schedule`}
        checked={sheet.read}
        onChange={(event) => {
          const box = event.currentTarget;
          void readSheet(sheet, box.checked).then((done) => {
            if (!done) box.checked = sheet.read;
          });
        }}
      />
      <button type="button" aria-pressed={shown} onClick={() => showSheet(sheet)}>
        {sheet.sheet}
        {rows !== '' && <span class="quiet"> {rows}</span>}
      </button>
    </li>
  );
}

function rowsOf(sheet: PreviewSheet, source: ScheduleSource): string {
  const read = source.sheets.find((s) => s.file === sheet.file && s.sheet === sheet.sheet);
  return read === undefined ? '' : `${read.rowsRead} rows`;
}

export interface SheetListProps {
  readonly all: readonly PreviewSheet[];
  readonly shown: PreviewSheet;
  readonly source: ScheduleSource;
}

/** The sheets of the files: those ticked make up the schedule. */
export function SheetList({ all, shown, source }: SheetListProps) {
  return (
    <div class="sheet-list">
      {source.files.map(({ fileName }, file) => (
        <section key={`${file} ${fileName}`} aria-label={`Sheets of ${fileName}`}>
          {source.files.length > 1 && <span class="sheet-file">{fileName}</span>}
          <ul>
            {all
              .filter((sheet) => sheet.file === file)
              .map((sheet) => (
                <SheetEntry
                  key={sheet.sheet}
                  sheet={sheet}
                  shown={sheet === shown}
                  rows={rowsOf(sheet, source)}
                />
              ))}
          </ul>
        </section>
      ))}
    </div>
  );
}

/** How many rows a header may be looked for in. */
const headerRowsOffered = 40;

function rowWords({ texts }: PreviewSheet['rows'][number]): string {
  const words = [...texts.values()].filter((text) => text !== '').join(' · ');
  return words.length > 48 ? `${words.slice(0, 47)}…` : words;
}

/** The row right above the data: choose another. */
function HeaderRowChoice({ sheet }: { readonly sheet: PreviewSheet }) {
  const { headerRow } = sheet;
  if (headerRow === null)
    return (
      <span class="quiet">
        Not part of the schedule; types, panels and lines may be read from it.
      </span>
    );
  const offered = sheet.rows.slice(0, headerRowsOffered);
  const known = offered.some(({ row }) => row === headerRow);
  const options = offered.map((row) => [String(row.row), `${row.row}: ${rowWords(row)}`] as const);
  return (
    <span class="header-row">
      Header in row{' '}
      <ChoiceSelect
        label="Header in row"
        value={String(headerRow)}
        options={known ? options : [[String(headerRow), String(headerRow)], ...options]}
        onTake={(row) => readHeaderIn({ file: sheet.file, sheet: sheet.sheet }, Number(row))}
      />
    </span>
  );
}

const choices: readonly (readonly [RowChoice, string])[] = [
  ['all', 'all rows'],
  ['fixtures', 'rows that are fixtures'],
  ['skipped', 'rows skipped'],
  ['open', 'rows with open readings'],
];

export interface SheetBarProps {
  readonly sheet: PreviewSheet;
  readonly choice: RowChoice;
  readonly onChoice: (choice: RowChoice) => void;
}

/** What holds for the sheet shown: its header row, and which of its rows are shown. */
export function SheetBar({ sheet, choice, onChoice }: SheetBarProps) {
  return (
    <div class="sheet-bar">
      <HeaderRowChoice sheet={sheet} />
      <label>
        Rows shown{' '}
        <select
          value={choice}
          onChange={(event) => {
            const wanted = choices.find(([id]) => id === event.currentTarget.value)?.[0];
            if (wanted !== undefined) onChoice(wanted);
          }}
        >
          {choices.map(([id, title]) => (
            <option key={id} value={id}>
              {title}
            </option>
          ))}
        </select>
      </label>
    </div>
  );
}
