import type { SuppressKeyboardEventParams } from 'ag-grid-community';
import { RecordKeys } from '../../grid/record-keys.ts';
import type { HeldRow } from './preview-rows.ts';

/** What a key does to the cell at hand beside moving and typing. */
export type PreviewAct = 'accept' | 'take-offer' | 'as-in-file' | 'to-report';

/** Keys of the preview that are not those of every grid. Pure. */
export function previewAct(
  { key, ctrl, alt }: { readonly key: string; readonly ctrl: boolean; readonly alt: boolean },
  editing: boolean,
): PreviewAct | null {
  if (editing) return null;
  if (key === 'Enter' && ctrl && !alt) return 'accept';
  if (key === 'Enter' && alt && !ctrl) return 'take-offer';
  if (key === 'Backspace' && ctrl) return 'as-in-file';
  if (key === 'F6' && !ctrl && !alt) return 'to-report';
  return null;
}

/** Moves as in the schedule; Delete leaves a cell blank; the acts go to whoever owns the grid. */
export class PreviewKeys {
  private readonly moves = new RecordKeys<HeldRow>(() => {});

  constructor(private readonly act: (act: PreviewAct) => void) {}

  /** True when the key was ours. */
  take(params: SuppressKeyboardEventParams<HeldRow>): boolean {
    const { event, editing } = params;
    const pressed = {
      key: event.key,
      ctrl: event.ctrlKey || event.metaKey,
      alt: event.altKey,
    };
    const act = event.shiftKey ? null : previewAct(pressed, editing);
    if (act === null) return this.moves.take(params);
    event.preventDefault();
    event.stopPropagation();
    this.act(act);
    return true;
  }
}
