/** Opens a workbook the way the app does and solves it. */
import { readFileSync } from 'node:fs';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import type { Command } from '../../src-shared/document/change.ts';
import { type CellValue, editCell } from '../../src-shared/document/edit-cell.ts';
import { type History, perform, startHistory } from '../../src-shared/document/history.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';

export function openJob(file: URL): Project {
  const name = file.pathname.slice(file.pathname.lastIndexOf('/') + 1);
  const read = readSourceFile(readFileSync(file), name);
  if (!read.ok || read.kind !== 'workbook') throw new Error(`${name} was not read as a workbook`);
  const schedule = readSchedule(read.workbook, {});
  if (!schedule.ok) throw new Error(schedule.refusal.what);
  return schedule.project;
}

/** A document with its engine, edited as the grid edits it. */
export class OpenJob {
  private history: History;
  readonly session: EngineSession;

  constructor(project: Project) {
    this.history = startHistory(project);
    this.session = new EngineSession(project);
  }

  get project(): Project {
    return this.history.project;
  }

  perform(command: Command): void {
    const step = perform(this.history, command);
    if (!step.ok) throw new Error(step.reason);
    this.history = step.history;
    this.session.update(this.history.project, command.changes);
  }

  edit(tag: string, column: ColumnId, value: CellValue): void {
    this.editId(this.project.fixtures.find((f) => f.tag === tag)?.id ?? '', column, value);
  }

  editId(id: string, column: ColumnId, value: CellValue): void {
    const edit = editCell(this.project, id, column, value);
    if (!edit.ok) throw new Error(edit.reason);
    this.perform(edit.command);
  }

  /** Stops and breaches as "limit scope", sorted. */
  broken(): string[] {
    const hits = this.session.findings.filter(
      (f) => f.severity === 'stop' || f.severity === 'breach',
    );
    return hits.map((f) => `${f.severity} ${f.id}`).sort();
  }

  tagsOf(limit: string): string[] {
    const tags = new Map(this.project.fixtures.map((f) => [f.id, f.tag ?? '']));
    const hits = this.session.findings.filter(
      (f) => f.limit === limit && f.severity !== 'not-checked',
    );
    return hits.flatMap((f) => f.fixtureIds.map((id) => tags.get(id) ?? ''));
  }
}
