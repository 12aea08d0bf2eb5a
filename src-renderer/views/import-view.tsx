import { useMemo } from 'preact/hooks';
import { columns, isSourceColumnId } from '../../src-shared/columns/column-table.ts';
import { rowsRead, rowsSkipped } from '../../src-shared/document/import-answers.ts';
import type {
  Confidence,
  Reading,
  ScheduleSource,
  SkippedRow,
} from '../../src-shared/document/project.ts';
import { columnLetters } from '../../src-shared/document/source-workbook.ts';
import type { Severity } from '../../src-shared/limits/limit.ts';
import type { RecordColumn } from '../grid/record-columns.ts';
import { RecordGrid } from '../grid/record-grid.tsx';
import { lengthUnit, project } from '../state/document-store.ts';
import { answerCell, answerColumn, answerSheet, sheetChoices } from '../state/import-state.ts';
import { showReadValue } from '../state/reading-words.ts';
import { lineNote, showCell, view } from '../state/view-state.ts';

const shadeOf: Readonly<Record<Confidence, Severity | null>> = {
  sure: null,
  likely: 'note',
  guess: 'watch',
  refused: 'breach',
};

const titleOf = (id: string | null) => columns.find((column) => column.id === id)?.title ?? '';

const readingColumns: readonly RecordColumn<Reading>[] = [
  { id: 'cell', title: 'Cell', width: 118, text: ({ cell }) => cell },
  { id: 'column', title: 'Column', width: 112, text: ({ column }) => titleOf(column) },
  {
    id: 'raw',
    title: 'In the file',
    width: 120,
    help: 'Type another text to have the cell read as that; clear it to leave the cell blank.',
    text: ({ raw }) => raw,
    edit: ({ cell }, text) => {
      if (!cell.includes('!'))
        return {
          ok: false,
          reason: 'This is about the file as a whole; there is no cell to change.',
        };
      void answerCell(cell, text.trim() === '' ? null : text);
      return null;
    },
  },
  {
    id: 'value',
    title: 'Read as',
    width: 116,
    text: (reading) => showReadValue(reading, lengthUnit.value),
  },
  {
    id: 'confidence',
    title: 'Confidence',
    width: 88,
    text: ({ confidence }) => confidence,
    shade: ({ confidence }) => shadeOf[confidence],
  },
  { id: 'note', title: 'Why', width: 260, flex: 1, text: ({ note }) => note },
];

const skippedColumns: readonly RecordColumn<SkippedRow>[] = [
  { id: 'row', title: 'Row', width: 80, figures: true, text: ({ row }) => String(row) },
  {
    id: 'reason',
    title: 'Why it was not read as a fixture',
    width: 300,
    flex: 1,
    text: ({ reason }) => reason,
  },
];

function ColumnMap({ source }: { readonly source: ScheduleSource }) {
  return (
    <table class="plain column-map">
      <thead>
        <tr>
          <th scope="col">Column</th>
          <th scope="col">Header in the file</th>
          <th scope="col">Read as</th>
        </tr>
      </thead>
      <tbody>
        {source.columns.map(({ header, columnId, unit }, place) => (
          <tr key={header}>
            <td>{columnLetters(source.sheets[0]?.columnAt[place] ?? place)}</td>
            <th scope="row">{header === '' ? <em class="quiet">no header</em> : header}</th>
            <td>
              <select
                aria-label={`Read ${header} as`}
                value={columnId ?? ''}
                onChange={(event) => {
                  const select = event.currentTarget;
                  void answerColumn(header, select.value === '' ? null : select.value).then(() => {
                    const now = project.value?.source?.columns.find((c) => c.header === header);
                    select.value = now?.columnId ?? '';
                  });
                }}
              >
                <option value="">carried along</option>
                {columns
                  .filter(({ id }) => isSourceColumnId(id) || id === columnId)
                  .map(({ id, title }) => (
                    <option key={id} value={id}>
                      {title}
                    </option>
                  ))}
              </select>
              {unit !== null && <span class="quiet"> {unit}</span>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** The sheet read; a choice where others could be the schedule too. */
function SheetChoice({ sheet }: { readonly sheet: string }) {
  const sheets = sheetChoices.value;
  if (sheets.length < 2) return <>{sheet}</>;
  return (
    <select
      aria-label="Sheet read"
      value={sheet}
      onChange={(event) => void answerSheet(event.currentTarget.value)}
    >
      {sheets.map((name) => (
        <option key={name} value={name}>
          {name}
        </option>
      ))}
    </select>
  );
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

const confidenceOrder: readonly Confidence[] = ['refused', 'guess', 'likely', 'sure'];

/** What asks for a look first; a cell that was answered for stays among them. */
function rankOf({ confidence, note }: Reading): number {
  const answered = note.includes('in the import report');
  return confidenceOrder.indexOf(answered && confidence === 'sure' ? 'likely' : confidence);
}

/** Everything the reading of the file decided: shown, counted, changeable. */
export function ImportView() {
  const source = project.value?.source ?? null;
  const rows = useMemo(() => {
    return [...(source?.readings ?? [])].sort((a, b) => rankOf(a) - rankOf(b));
  }, [source]);
  if (source === null) return null;
  const skipped = rowsSkipped(source).length;
  const ask = rows.filter(({ confidence }) => confidence !== 'sure').length;
  const [first] = project.value?.fixtures ?? [];
  return (
    <div class="import-view">
      <div class="import-head">
        <div>
          <h2>How {source.files[0]?.fileName} was read</h2>
          <p>
            Sheet <SheetChoice sheet={source.sheets[0]?.sheet ?? ''} />, header in row{' '}
            {source.sheets[0]?.headerRow}. <strong>{counted(rowsRead(source), 'row')} read</strong>{' '}
            + {skipped} skipped = {counted(rowsRead(source) + skipped, 'source row')}.{' '}
            {rows.length === 0
              ? 'Every cell was plain.'
              : `${counted(rows.length, 'cell')} not plain; ${ask} worth a look.`}
          </p>
        </div>
        <button
          type="button"
          class="chief"
          onClick={() => {
            if (first !== undefined) showCell(first.id, 'tag');
            else view.value = 'schedule';
          }}
        >
          To the schedule
        </button>
      </div>
      <div class="import-body">
        <section class="import-columns">
          <h3>Columns</h3>
          <ColumnMap source={source} />
        </section>
        <section class={`import-readings${skipped === 0 ? ' none-skipped' : ''}`}>
          <h3>Readings</h3>
          {rows.length === 0 ? (
            <p class="quiet">Nothing had to be decided.</p>
          ) : (
            <RecordGrid
              name="Readings"
              rows={rows}
              keyOf={(r) => `${r.cell} ${r.column} ${r.note}`}
              columns={readingColumns}
              onAtHand={({ cell, note }) => {
                lineNote.value = `${cell}: ${note}`;
              }}
            />
          )}
          <h3>Rows skipped</h3>
          {skipped === 0 ? (
            <p class="quiet">None.</p>
          ) : (
            <RecordGrid
              name="Rows skipped"
              rows={rowsSkipped(source)}
              keyOf={(r) => String(r.row)}
              columns={skippedColumns}
            />
          )}
        </section>
      </div>
    </div>
  );
}
