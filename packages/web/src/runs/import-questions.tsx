import type { ImportQuestion } from '@soakbench/core/runs';
import { useId } from 'preact/hooks';

interface ImportQuestionsProps {
  readonly questions: readonly ImportQuestion[];
  readonly answers: Readonly<Record<string, number>>;
  readonly onAnswer: (question: ImportQuestion, option: number) => void;
}

/** What the file alone does not settle. Nothing is marked until a person marks it. */
export function ImportQuestions({ questions, answers, onAnswer }: ImportQuestionsProps) {
  const id = useId();
  return (
    <>
      {questions.map((question) => (
        <fieldset key={question.field} class="question">
          <legend>{question.question}</legend>
          {question.options.map((option, index) => (
            <label key={option.label} class="tick">
              <input
                type="radio"
                name={`${id}-${question.field}`}
                checked={answers[question.field] === index}
                onChange={() => onAnswer(question, index)}
              />
              {option.label}
            </label>
          ))}
        </fieldset>
      ))}
    </>
  );
}
