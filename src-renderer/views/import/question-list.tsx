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

function Questions({ list }: { readonly list: readonly ImportQuestion[] }) {
  return (
    <ul>
      {list.map((question) => (
        <Question key={`${question.id} ${question.file}`} question={question} />
      ))}
    </ul>
  );
}

/** What only the engineer knows of the file: plain questions, each with what holds until it is answered. */
export function QuestionList({ questions }: { readonly questions: readonly ImportQuestion[] }) {
  const open = questions.filter(({ answered }) => !answered);
  const done = questions.filter(({ answered }) => answered);
  if (questions.length === 0) return null;
  return (
    <section
      class={`questions${open.length === 0 ? ' questions-answered' : ''}`}
      aria-label="Questions about the file"
    >
      {open.length > 0 && (
        <>
          <h3>
            {open.length} {open.length === 1 ? 'question' : 'questions'} for you
          </h3>
          <Questions list={open} />
        </>
      )}
      {done.length > 0 && (
        <details>
          <summary>
            {done.length} {done.length === 1 ? 'question' : 'questions'} answered
          </summary>
          <Questions list={done} />
        </details>
      )}
    </section>
  );
}
