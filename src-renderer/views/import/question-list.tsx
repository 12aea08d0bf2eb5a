import type { ImportQuestion } from '../../../src-shared/document/project.ts';
import { answerQuestion } from '../../state/import-acts.ts';

function Question({ question }: { readonly question: ImportQuestion }) {
  const { text, choices, chosen, answered } = question;
  return (
    <li class="question">
      <fieldset>
        <legend>{text}</legend>
        {choices.map(({ value, title }) => (
          <button
            key={value}
            type="button"
            aria-pressed={answered && value === chosen}
            class={!answered && value === chosen ? 'holds' : ''}
            onClick={() => void answerQuestion(question, value)}
          >
            {title}
            {!answered && value === chosen && <span class="holds-note"> holds until answered</span>}
          </button>
        ))}
        {answered && (
          <>
            <span class="quiet">answered</span>
            <button
              type="button"
              class="plain-act"
              onClick={() => void answerQuestion(question, null)}
            >
              Take back
            </button>
          </>
        )}
      </fieldset>
    </li>
  );
}

/** What only the engineer knows of the file: plain questions, each with what holds until it is answered. */
export function QuestionList({ questions }: { readonly questions: readonly ImportQuestion[] }) {
  if (questions.length === 0) return null;
  const open = questions.filter(({ answered }) => !answered).length;
  return (
    <section
      class={`questions${open === 0 ? ' questions-answered' : ''}`}
      aria-label="Questions about the file"
    >
      <h3>
        {open === 0
          ? 'Questions, answered'
          : `${open} ${open === 1 ? 'question' : 'questions'} for you`}
      </h3>
      <ul>
        {questions.map((question) => (
          <Question key={`${question.id} ${question.file}`} question={question} />
        ))}
      </ul>
    </section>
  );
}
