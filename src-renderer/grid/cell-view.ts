/** One renderer for every schedule cell: text, mark, lock, and the room a number has. */

import type { ICellRendererComp, ICellRendererParams } from 'ag-grid-community';
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { titlesInLine } from '../../src-shared/limits/finding.ts';
import { cellOrigin } from '../state/cell-text.ts';
import { type FixtureRow, type GridRow, ownFindings } from '../state/row-model.ts';
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
  /** What is drawn: a cell that says the same again is left alone. */
  private drawn = '';

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
    const { columnId } = this;
    const worst = worstOf(row.cells?.get(columnId) ?? []);
    const locked = row.facts.fixture.locks.includes(columnId);
    const text = typeof params.value === 'string' ? params.value : '';
    const proposed = text !== '' && cellOrigin(row, columnId) === 'proposed';
    const shown = room(row, columnId);
    const now = `${text}|${worst}|${locked}|${proposed}|${shown?.share}`;
    if (now === this.drawn) return;
    this.drawn = now;
    this.root.replaceChildren(
      ...(worst === null ? [] : markElement(worst)),
      ...(locked ? lockElement() : []),
      span('figure', text),
      ...(proposed ? [span('heard', ' proposed')] : []),
      ...(shown === null ? [] : [roomElement(shown)]),
    );
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

/** Findings of a row: the letters first, so that none is cut off, then their names, worst first. */
export class FindingsView implements ICellRendererComp<GridRow> {
  private readonly root = document.createElement('div');
  private drawn = '';

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
    const found = row?.kind === 'fixture' ? shortFindings(row) : [];
    const heard = found.map(({ severity, title }) => `${severityWord[severity]}: ${title}`);
    const now = heard.join(', ');
    if (now === this.drawn) return;
    this.drawn = now;
    const letters = found.map(({ severity }) =>
      span(`mark mark-${severity}`, severityLetter[severity]),
    );
    for (const letter of letters) letter.setAttribute('aria-hidden', 'true');
    const names = span('finding-name', titlesInLine(found));
    names.setAttribute('aria-hidden', 'true');
    this.root.replaceChildren(...letters, names, span('heard', now));
  }
}

/** One entry a limit and severity. */
export function shortFindings(row: FixtureRow): FixtureRow['findings'] {
  const seen = new Set<string>();
  return ownFindings(row).filter(({ limit, severity }) => {
    const key = `${limit} ${severity}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
