import type { SuppressKeyboardEventParams } from 'ag-grid-community';
import { RecordKeys } from '../../grid/record-keys.ts';

/** What a key does in the list of readings, beside moving and typing. */
export type ReportAct = 'accept' | 'take-offer' | 'as-in-file' | 'leave-blank' | 'to-preview';

export interface ReportKey {
  readonly key: string;
  readonly ctrl: boolean;
  readonly alt: boolean;
  readonly shift: boolean;
}

/** Null: the key is none of the list's own. Pure. */
export function reportAct(
  { key, ctrl, alt, shift }: ReportKey,
  editing: boolean,
): ReportAct | null {
  if (editing) return null;
  if (alt) return key === 'Enter' && !ctrl ? 'take-offer' : null;
  if (shift) return key === 'F6' ? 'to-preview' : null;
  if (key === 'Enter') return 'accept';
  if (ctrl) return key === 'Backspace' ? 'as-in-file' : null;
  if (key === ' ') return 'accept';
  return key === 'Delete' || key === 'Backspace' ? 'leave-blank' : null;
}

/** Moves as in every table; the list's own keys go to whoever owns the grid. */
export class ReportKeys<H> {
  private readonly moves = new RecordKeys<H>(() => {});

  constructor(private readonly act: (act: ReportAct) => void) {}

  /** True when the key was ours. */
  take(params: SuppressKeyboardEventParams<H>): boolean {
    const { event, editing } = params;
    if (event.isComposing) return true;
    const act = reportAct(
      {
        key: event.key,
        ctrl: event.ctrlKey || event.metaKey,
        alt: event.altKey,
        shift: event.shiftKey,
      },
      editing,
    );
    if (act === null) return this.moves.take(params);
    event.preventDefault();
    event.stopPropagation();
    this.act(act);
    return true;
  }
}
