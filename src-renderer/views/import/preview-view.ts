/** How a cell of a source sheet is drawn: its text, what was made of it, what the engineer said. */
import type { ICellRendererComp, ICellRendererParams } from 'ag-grid-community';
import type { PreviewCell } from '../../../src-shared/exchange/preview/preview-cells.ts';
import { looksElements } from './confidence-mark.tsx';
import type { HeldRow } from './preview-rows.ts';

export interface PreviewViewParams {
  readonly column: number;
  /** What the cell was read as where its text does not say it. */
  readonly besideOf: (row: HeldRow, column: number, raw: string) => string | null;
}

function textElement(className: string, text: string): HTMLElement {
  const element = document.createElement('span');
  element.className = className;
  element.textContent = text;
  return element;
}

/** What stands in the cell: the answer where there is one, with the file's own text struck beside it. */
function textElements(raw: string, cell: PreviewCell | undefined): HTMLElement[] {
  if (cell?.answered !== true || cell.text === undefined || cell.text === raw) {
    return [textElement('figure', raw)];
  }
  const answer = cell.text === '' ? 'left blank' : cell.text;
  return [
    textElement(`figure answer-text${cell.text === '' ? ' answer-blank' : ''}`, answer),
    ...(raw === '' ? [] : [textElement('was-text', raw)]),
  ];
}

/** `→ CR4`, heard as `read as CR4`. */
function besideElement(text: string): HTMLElement {
  const root = textElement('read-beside', '');
  const arrow = textElement('', '→ ');
  arrow.setAttribute('aria-hidden', 'true');
  root.append(arrow, textElement('heard', ' read as '), text);
  return root;
}

export class PreviewView implements ICellRendererComp<HeldRow> {
  private readonly root = document.createElement('div');
  private column = 0;
  private besideOf: PreviewViewParams['besideOf'] = () => null;

  init(params: ICellRendererParams<HeldRow> & PreviewViewParams): void {
    this.root.className = 'cell preview-cell';
    this.besideOf = params.besideOf;
    // The grid's own `column` is an object; ours is the place in the sheet.
    this.column = params.colDef?.cellRendererParams.column;
    this.refresh(params);
  }

  getGui(): HTMLElement {
    return this.root;
  }

  refresh({ data }: ICellRendererParams<HeldRow>): boolean {
    const cell = data?.row.cells.get(this.column);
    const raw = data?.row.texts.get(this.column) ?? '';
    const shown = cell?.answered === true ? (cell.text ?? raw) : raw;
    const beside =
      data === undefined || cell === undefined ? null : this.besideOf(data, this.column, shown);
    this.root.replaceChildren(
      ...(cell === undefined ? [] : looksElements(cell)),
      ...textElements(raw, cell),
      ...(beside === null ? [] : [besideElement(beside)]),
    );
    return true;
  }
}

const outcomeLead = {
  header: 'header',
  above: '',
  fixture: '',
  skipped: 'skipped',
  'not-read': '',
} as const;

/** What became of a row: the fixtures it is, or why it is none. */
export class OutcomeView implements ICellRendererComp<HeldRow> {
  private readonly root = document.createElement('div');

  init(params: ICellRendererParams<HeldRow>): void {
    this.refresh(params);
  }

  getGui(): HTMLElement {
    return this.root;
  }

  refresh({ data }: ICellRendererParams<HeldRow>): boolean {
    const outcome = data?.row.outcome ?? { kind: 'not-read', text: '' };
    this.root.className = `cell outcome outcome-${outcome.kind}`;
    const lead = outcomeLead[outcome.kind];
    const tap = textElement('outcome-tap', '');
    tap.setAttribute('aria-hidden', 'true');
    this.root.replaceChildren(
      tap,
      ...(lead === '' || lead === outcome.text ? [] : [textElement('outcome-lead', lead)]),
      textElement('figure', outcome.text),
    );
    return true;
  }
}
