import type { ICellRendererComp, ICellRendererParams } from 'ag-grid-community';
import type { Severity } from '../../src-shared/limits/limit.ts';
import { markElement } from './cell-view.ts';

interface Marked {
  readonly record: unknown;
}

interface MarkedParams {
  readonly mark: (record: unknown) => Severity | null;
}

/** A cell of a smaller table with the mark of what was found there. */
export class MarkedView implements ICellRendererComp<Marked> {
  private readonly root = document.createElement('div');
  private mark: MarkedParams['mark'] = () => null;

  init(params: ICellRendererParams<Marked> & MarkedParams): void {
    this.root.className = 'cell';
    this.mark = params.mark;
    this.refresh(params);
  }

  getGui(): HTMLElement {
    return this.root;
  }

  refresh({ data, value }: ICellRendererParams<Marked>): boolean {
    const severity = data === undefined ? null : this.mark(data.record);
    const text = document.createElement('span');
    text.className = 'figure';
    text.textContent = typeof value === 'string' ? value : '';
    this.root.replaceChildren(...(severity === null ? [] : markElement(severity)), text);
    return true;
  }
}
