/**
 * A choice that reads the file again must not do so at every arrow key: what keys pass over is taken
 * at Enter or when the focus leaves, Esc goes back; a choice made with the mouse is taken at once.
 * Returns the way to stop.
 */
export function settleChoice(
  select: HTMLSelectElement,
  standing: () => string,
  take: (value: string) => void,
  leave: () => void = () => {},
): () => void {
  let keyAt = Number.NEGATIVE_INFINITY;
  let passing = false;
  const settle = () => {
    if (!passing) return;
    passing = false;
    if (select.value !== standing()) take(select.value);
  };
  const onKey = (event: KeyboardEvent) => {
    keyAt = event.timeStamp;
    if (event.key === 'Enter') setTimeout(settle, 0);
    if (event.key !== 'Escape') return;
    passing = false;
    select.value = standing();
    leave();
  };
  const onChange = (event: Event) => {
    passing = event.timeStamp - keyAt < 80;
    if (!passing) take(select.value);
  };
  select.addEventListener('keydown', onKey);
  select.addEventListener('change', onChange);
  select.addEventListener('blur', settle);
  return () => {
    select.removeEventListener('keydown', onKey);
    select.removeEventListener('change', onChange);
    select.removeEventListener('blur', settle);
  };
}
