import type { ChoiceQuestion } from '../state/ask-choice.ts';
import { DialogFrame } from './dialog-frame.tsx';

/** Asks one question; Esc is the way that changes nothing. */
export function ChoiceDialog({ question }: { readonly question: ChoiceQuestion }) {
  const { title, sentences, choices, answer } = question;
  return (
    <DialogFrame title={title} onClose={() => answer(null)}>
      {sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <div class="dialog-acts">
        <button type="button" onClick={() => answer(null)}>
          Cancel
        </button>
        {choices.map(({ id, title: words }, place) => (
          <button
            key={id}
            type="button"
            class={place === choices.length - 1 ? 'chief' : ''}
            onClick={() => answer(id)}
          >
            {words}
          </button>
        ))}
      </div>
    </DialogFrame>
  );
}
