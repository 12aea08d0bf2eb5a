import type { ICellEditorComp, ICellEditorParams } from 'ag-grid-community';

export interface TextEditorParams {
  /** The text an edit begins with. */
  readonly startText: (params: ICellEditorParams) => string;
  /** Told at every key, so that what is understood can be shown. */
  readonly onText?: (text: string, params: ICellEditorParams) => void;
}

/**
 * The one editor of every grid: plain text in, plain text out. Reading it is the business of the
 * cell's parser, never of the editor, so nothing is lost or turned into a number on the way.
 */
export class TextEditor implements ICellEditorComp {
  private readonly input = document.createElement('input');
  private replaces = false;

  init(params: ICellEditorParams & TextEditorParams): void {
    const { input } = this;
    input.type = 'text';
    input.className = 'cell-input';
    input.spellcheck = false;
    input.autocomplete = 'off';
    input.setAttribute('aria-label', params.colDef.headerName ?? 'Cell');
    const key = params.eventKey;
    this.replaces = key !== null && [...key].length === 1;
    const emptied = key === 'Backspace' || key === 'Delete';
    input.value = this.replaces ? (key ?? '') : emptied ? '' : params.startText(params);
    input.addEventListener('input', () => params.onText?.(input.value, params));
    params.onText?.(input.value, params);
  }

  getGui(): HTMLElement {
    return this.input;
  }

  afterGuiAttached(): void {
    this.input.focus();
    if (this.replaces)
      this.input.setSelectionRange(this.input.value.length, this.input.value.length);
    else this.input.select();
  }

  getValue(): string {
    return this.input.value;
  }

  isPopup(): boolean {
    return false;
  }
}
