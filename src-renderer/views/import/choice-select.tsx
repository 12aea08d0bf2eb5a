import { useEffect, useRef } from 'preact/hooks';
import { settleChoice } from './settle-choice.ts';

export interface ChoiceSelectProps {
  readonly label: string;
  readonly value: string;
  /** Value and title, in order. */
  readonly options: readonly (readonly [string, string])[];
  /** False: refused, the choice goes back to where it stood. */
  readonly onTake: (value: string) => Promise<boolean>;
}

/** A choice that is taken once, not at every arrow key. */
export function ChoiceSelect(given: ChoiceSelectProps) {
  const props = useRef(given);
  props.current = given;
  const select = useRef<HTMLSelectElement>(null);
  useEffect(() => {
    const element = select.current;
    if (element === null) return;
    return settleChoice(
      element,
      () => props.current.value,
      (value) => {
        void props.current.onTake(value).then((done) => {
          if (!done) element.value = props.current.value;
        });
      },
    );
  }, []);
  return (
    <select ref={select} aria-label={given.label} value={given.value}>
      {given.options.map(([value, title]) => (
        <option key={value} value={value}>
          {title}
        </option>
      ))}
    </select>
  );
}
