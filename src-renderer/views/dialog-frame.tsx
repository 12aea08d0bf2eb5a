import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

export interface DialogFrameProps {
  readonly title: string;
  readonly children: ComponentChildren;
  /** Called by Esc; absent: the dialog must be answered. */
  readonly onClose?: () => void;
  readonly wide?: boolean;
}

/** A modal dialog: the browser keeps the focus inside and gives it back. */
export function DialogFrame({ title, children, onClose, wide = false }: DialogFrameProps) {
  const frame = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const element = frame.current;
    if (element !== null && !element.open) element.showModal();
    return () => element?.close();
  }, []);
  return (
    <dialog
      ref={frame}
      class={wide ? 'dialog dialog-wide' : 'dialog'}
      aria-labelledby="dialog-title"
      onCancel={(event) => {
        event.preventDefault();
        onClose?.();
      }}
    >
      <h2 id="dialog-title">{title}</h2>
      {children}
    </dialog>
  );
}
