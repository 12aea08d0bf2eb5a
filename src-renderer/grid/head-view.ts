import type { ICellRendererComp, ICellRendererParams } from 'ag-grid-community';
import { titlesInLine } from '../../src-shared/limits/finding.ts';
import { lengthUnit } from '../state/document-store.ts';
import type { GridRow } from '../state/row-model.ts';
import { severityWord, worstOf } from '../state/severity-words.ts';
import { markElement } from './cell-view.ts';
import { headWords } from './head-words.ts';
import { drawRunStart } from './run-line.ts';

function part(className: string, text: string): HTMLElement {
  const element = document.createElement('span');
  element.className = className;
  element.textContent = text;
  return element;
}

const live = new Set<HeadView>();

/** Draws the head rows on screen anew. The grid's own redraw would take the focus from an editor. */
export function refreshHeads(): void {
  for (const head of live) head.update();
}

/** A run's head row: what matters of it, in fixed stops so that runs read down as well as across. */
export class HeadView implements ICellRendererComp<GridRow> {
  private readonly root = document.createElement('div');
  private row: GridRow | undefined;

  init(params: ICellRendererParams<GridRow>): void {
    this.root.className = 'run-head';
    // The grid makes such a row one cell but gives it no role.
    this.root.setAttribute('role', 'gridcell');
    this.draw(params.data);
    live.add(this);
  }

  destroy(): void {
    live.delete(this);
  }

  /** Draws the row it stands for as that is now. */
  update(): void {
    this.draw(this.row);
  }

  getGui(): HTMLElement {
    return this.root;
  }

  refresh(params: ICellRendererParams<GridRow>): boolean {
    this.draw(params.data);
    return true;
  }

  private draw(row: GridRow | undefined): void {
    this.row = row;
    if (row?.kind !== 'head') return;
    const words = headWords(row, lengthUnit.value);
    const amps = part('head-amps', words.amps);
    if (words.ampsShare !== null) {
      const track = part('room room-bar', '');
      if (words.ampsShare > 1) track.classList.add('room-over');
      const fill = part('room-fill', '');
      fill.style.width = `${(100 * Math.min(1, words.ampsShare)).toFixed(1)}%`;
      track.append(fill);
      amps.append(track);
    }
    const marks = part('head-marks', '');
    const worst = worstOf(row.findings);
    if (worst !== null) {
      const title = titlesInLine(row.findings.slice(0, 1));
      marks.append(...markElement(worst), part('finding-name', title));
      const more = row.findings.filter((f) => f.severity !== 'not-checked').length - 1;
      if (more > 0) marks.append(part('head-more', `and ${more} more`));
      marks.title = row.findings.map((f) => `${severityWord[f.severity]}: ${f.title}`).join('\n');
    }
    this.root.replaceChildren(
      drawRunStart(row),
      part('head-name', words.name),
      part('head-circuit', words.circuit),
      part('head-volts', words.volts),
      part('head-fixtures', words.fixtures),
      amps,
      part('head-drop', words.drop),
      part('head-length', words.length),
      marks,
    );
  }
}
