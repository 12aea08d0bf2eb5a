/** One renderer for every schedule cell: text, mark, lock, and the room a number has. */
import type { ICellRendererComp, ICellRendererParams } from 'ag-grid-community';
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { cellOrigin } from '../state/cell-text.ts';
import type { FixtureRow, GridRow } from '../state/row-model.ts';
import { severityLetter, severityWord, worstOf } from '../state/severity-words.ts';
import { room } from './cell-room.ts';

export interface CellViewParams {
  readonly columnId: ColumnId;
}

function span(className: string, text: string): HTMLSpanElement {
  const element = document.createElement('span');
  element.className = className;
  element.textContent = text;
  return element;
}

/** A severity as its letter, with the word for those who hear it. */
export function markElement(severity: NonNullable<ReturnType<typeof worstOf>>): HTMLElement[] {
  const letter = span(`mark mark-${severity}`, severityLetter[severity]);
  letter.setAttribute('aria-hidden', 'true');
  return [letter, span('heard', `${severityWord[severity]}: `)];
}

function lockElement(): HTMLElement[] {
  const lock = span('lock', '');
  lock.setAttribute('aria-hidden', 'true');
  return [lock, span('heard', 'locked ')];
}

export class CellView implements ICellRendererComp<GridRow> {
  private readonly root = document.createElement('div');
  private columnId: ColumnId = 'tag';

  init(params: ICellRendererParams<GridRow> & CellViewParams): void {
    this.root.className = 'cell';
    this.columnId = params.columnId;
    this.draw(params);
  }

  getGui(): HTMLElement {
    return this.root;
  }

  refresh(params: ICellRendererParams<GridRow>): boolean {
    this.draw(params);
    return true;
  }

  private draw(params: ICellRendererParams<GridRow>): void {
    const row = params.data;
    if (row?.kind !== 'fixture') return;
    const parts: HTMLElement[] = [];
    const { columnId } = this;
    const found = row.cells?.get(columnId);
    const worst = found === undefined ? null : worstOf(found);
    if (worst !== null && columnId !== 'findings') parts.push(...markElement(worst));
    if (row.facts.fixture.locks.includes(columnId)) parts.push(...lockElement());
    const text = typeof params.value === 'string' ? params.value : '';
    const origin = cellOrigin(row, columnId);
    parts.push(span('figure', text));
    if (origin === 'proposed' && text !== '') parts.push(span('heard', ' proposed'));
    const shown = room(row, columnId);
    if (shown !== null) parts.push(roomElement(shown));
    this.root.replaceChildren(...parts);
  }
}

function roomElement({ kind, share }: NonNullable<ReturnType<typeof room>>): HTMLElement {
  const track = span(`room room-${kind}`, '');
  const fill = span('room-fill', '');
  const percent = `${(100 * Math.min(1, Math.max(0, share))).toFixed(1)}%`;
  if (kind === 'bar') fill.style.width = percent;
  else fill.style.left = percent;
  if (share > 1) track.classList.add('room-over');
  track.append(fill);
  return track;
}

/** Findings of a row: a letter and a short name each, worst first, one of a kind. */
export class FindingsView implements ICellRendererComp<GridRow> {
  private readonly root = document.createElement('div');

  init(params: ICellRendererParams<GridRow>): void {
    this.root.className = 'cell cell-findings';
    this.draw(params.data);
  }

  getGui(): HTMLElement {
    return this.root;
  }

  refresh(params: ICellRendererParams<GridRow>): boolean {
    this.draw(params.data);
    return true;
  }

  private draw(row: GridRow | undefined): void {
    const parts: HTMLElement[] = [];
    for (const { severity, title } of row?.kind === 'fixture' ? shortFindings(row) : []) {
      parts.push(...markElement(severity), span('finding-name', title));
    }
    this.root.replaceChildren(...parts);
  }
}

/** One entry a limit and severity. */
export function shortFindings(row: FixtureRow): FixtureRow['findings'] {
  const seen = new Set<string>();
  return row.findings.filter(({ limit, severity }) => {
    const key = `${limit} ${severity}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
