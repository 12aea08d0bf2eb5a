/** The header of a source column in the preview: where it stands, what it says, what it is read as. */
import type { IHeaderComp, IHeaderParams } from 'ag-grid-community';
import { columns, isSourceColumnId } from '../../../src-shared/columns/column-table.ts';
import type { PreviewColumn } from '../../../src-shared/exchange/preview/preview-sheet.ts';
import { readColumnAs } from '../../state/import-acts.ts';
import { settleChoice } from './settle-choice.ts';

export interface ColumnChoiceParams {
  readonly shown: PreviewColumn;
}

function element(className: string, text: string): HTMLElement {
  const made = document.createElement('span');
  made.className = className;
  made.textContent = text;
  return made;
}

const readable = columns.filter(({ id }) => isSourceColumnId(id));

function optionsFor(columnId: string | null): HTMLOptionElement[] {
  const known = readable.some(({ id }) => id === columnId);
  return [
    new Option('carried along', ''),
    ...readable.map(({ id, title }) => new Option(title, id)),
    ...(columnId === null || known ? [] : [new Option(columnId, columnId)]),
  ];
}

/** Letters and header over a choice; a column that has no header is only named. */
export class ColumnChoice implements IHeaderComp {
  private readonly root = document.createElement('div');
  private readonly select = document.createElement('select');
  private shown: PreviewColumn | null = null;

  init(params: IHeaderParams & ColumnChoiceParams): void {
    this.root.className = 'column-choice';
    // The arrows reach it through its header cell; in the order of Tab it would stand 20 times.
    this.select.tabIndex = -1;
    settleChoice(
      this.select,
      () => this.shown?.columnId ?? '',
      () => void this.take(),
      () => this.root.closest<HTMLElement>('.ag-header-cell')?.focus(),
    );
    this.draw(params.shown);
  }

  getGui(): HTMLElement {
    return this.root;
  }

  refresh(params: IHeaderParams & ColumnChoiceParams): boolean {
    this.draw(params.shown);
    return true;
  }

  private draw(shown: PreviewColumn): void {
    const { header, letters, columnId } = shown;
    const before = this.shown;
    this.shown = shown;
    if (before?.header === header && before.columnId === columnId && before.letters === letters) {
      return;
    }
    const title = element('column-title', '');
    title.append(element('column-letters', letters), element('column-header', header ?? ''));
    title.title = header ?? '';
    if (header === null) {
      this.root.replaceChildren(title);
      return;
    }
    this.select.setAttribute('aria-label', `Read ${header === '' ? letters : header} as`);
    this.select.replaceChildren(...optionsFor(columnId));
    this.select.value = columnId ?? '';
    this.select.className = columnId === null ? 'carried' : '';
    this.root.replaceChildren(title, this.select);
  }

  private async take(): Promise<void> {
    const { shown } = this;
    if (shown === null || shown.header === null) return;
    const wanted = this.select.value === '' ? null : this.select.value;
    const done = await readColumnAs(shown.header, wanted);
    // A choice that was refused stands as it was.
    if (!done) this.select.value = this.shown?.columnId ?? '';
  }
}
