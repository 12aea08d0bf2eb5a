/**
 * Revision C of the forecourt held against B. B is made here out of C as its title block says: red was
 * added in C, struck through was deleted in C. Source: `revision` in the truth file.
 */
import { describe, expect, it } from 'vitest';
import { applyCommand } from '../../src-shared/document/apply.ts';
import { editCell } from '../../src-shared/document/edit-cell.ts';
import type { Project } from '../../src-shared/document/project.ts';
import type {
  SourceCell,
  SourceRow,
  SourceWorkbook,
} from '../../src-shared/document/source-workbook.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { reviseProject } from '../../src-shared/exchange/revise/revise-project.ts';
import { truthOf, workbookOf } from './truth.ts';

const name = 'selkie-forecourt-rev-c';
const truth = truthOf<{
  readonly revision: { readonly added: readonly string[]; readonly deletedRows: readonly number[] };
}>(name);
const revisionC = workbookOf(name);

function withoutStrike({ struck: _struck, ...cell }: SourceCell): SourceCell {
  return cell;
}

/** The rows as they stood before C: those deleted in C alive, those added in it away. */
function before(row: SourceRow): SourceRow[] {
  const tag = row.cells.find(({ column }) => column === 0)?.text ?? '';
  if (truth.revision.added.includes(tag)) return [];
  return truth.revision.deletedRows.includes(row.number)
    ? [{ ...row, cells: row.cells.map(withoutStrike) }]
    : [row];
}

const revisionB: SourceWorkbook = {
  ...revisionC,
  sheets: revisionC.sheets.map((sheet) => ({ ...sheet, rows: sheet.rows.flatMap(before) })),
};

function read(workbook: SourceWorkbook): Project {
  const result = readSchedule(workbook, {});
  if (!result.ok) throw new Error(result.refusal.what);
  return result.project;
}

function edited(
  project: Project,
  tag: string,
  column: 'span' | 'location',
  value: number | string,
) {
  const fixture = project.fixtures.find((f) => f.tag === tag);
  const edit = editCell(project, fixture?.id ?? '', column, value);
  if (!edit.ok) throw new Error(edit.reason);
  const applied = applyCommand(project, edit.command);
  if (!applied.ok) throw new Error(applied.reason);
  return applied.project;
}

function revise(current: Project, base: Project, revised: Project) {
  const { changes, differences } = reviseProject(current, base, revised);
  const applied = applyCommand(current, { label: 'Revision', changes });
  if (!applied.ok) throw new Error(applied.reason);
  return { project: applied.project, differences };
}

describe('revision C against B', () => {
  const base = read(revisionB);
  const next = read(revisionC);

  it('adds what is red and removes what is struck through', () => {
    const { project, differences } = revise(base, base, next);
    const named = (kind: string) =>
      differences.filter((d) => d.kind === kind && d.table === 'fixtures').map((d) => d.name);
    expect(named('added')).toEqual(truth.revision.added);
    const gone = revisionC.sheets[0]?.rows.filter(({ number }) =>
      truth.revision.deletedRows.includes(number),
    );
    expect(named('removed')).toEqual(gone?.map((row) => row.cells[0]?.text));
    expect(project.fixtures.map(({ tag }) => tag)).toEqual(next.fixtures.map(({ tag }) => tag));
  });

  it('keeps what the engineer has done since', () => {
    const current = edited(edited(base, 'S-02', 'span', 1.5), 'S-06', 'location', 'moved');
    const { project } = revise(current, base, next);
    const byTag = (tag: string) => project.fixtures.find((f) => f.tag === tag);
    expect(byTag('S-02')?.spanM).toBe(1.5);
    expect(byTag('S-06')?.location).toBe('moved');
    expect(byTag('S-06')?.id).toBe(current.fixtures.find((f) => f.tag === 'S-06')?.id);
  });

  it('is undone in one step', () => {
    const { changes } = reviseProject(base, base, next);
    const applied = applyCommand(base, { label: 'Revision', changes });
    if (!applied.ok) throw new Error(applied.reason);
    const back = applyCommand(applied.project, applied.inverse);
    expect(back).toMatchObject({ ok: true });
    if (back.ok) expect(JSON.stringify(back.project)).toBe(JSON.stringify(base));
  });

  it('changes nothing where nothing is different', () => {
    expect(reviseProject(base, base, read(revisionB))).toEqual({ changes: [], differences: [] });
  });
});
