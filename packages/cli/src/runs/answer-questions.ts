import { BadInputError, type Fault } from '@soakbench/core/measure';
import type { Recipe } from '@soakbench/core/records';
import { applyOption, type ImportQuestion, type sniffLog } from '@soakbench/core/runs';
import { readNumber } from '../parts/read-number.js';

export interface Answered {
  readonly recipe: Recipe;
  readonly questions: readonly (ImportQuestion & { readonly answered: boolean })[];
  /** What still has to be answered before the log may be imported. */
  readonly open: readonly Fault[];
}

/** Whose column is whose is said with --map, by header, and not by the number of an option. */
function isAboutProbe({ field }: ImportQuestion): boolean {
  return /^channels\.\d+\.probe$/.test(field);
}

/**
 * Applies what the person answered to what the log leaves open.
 *
 * @param answers as typed: `time.order=2`, options counted from 1
 * @param isSettled whether a question needs no answer here: an earlier recipe or another option holds it
 * @param interval as typed: seconds between rows, which settles every question about the time
 * @throws BadInputError for an answer to nothing, or one that is no option
 */
export function answerQuestions(
  sniffed: Pick<ReturnType<typeof sniffLog>, 'recipe' | 'questions'>,
  answers: readonly string[],
  interval: string | undefined,
  isSettled: (field: string) => boolean = () => false,
): Answered {
  const faults: Fault[] = [];
  const asked = sniffed.questions.filter((question) => !isAboutProbe(question));
  const chosen = new Map<string, number>();
  for (const answer of answers) {
    const [field = '', number = ''] = answer.split('=');
    const question = asked.find((each) => each.field === field);
    const option = question?.options[Number(number) - 1];
    if (option !== undefined) chosen.set(field, Number(number) - 1);
    else faults.push(answerFault(answer, question, asked));
  }
  const interval_s = readNumber('--interval', interval, 'seconds', faults);
  if (interval_s !== undefined && !(interval_s > 0 && interval_s <= 86_400)) {
    faults.push({
      where: '--interval',
      what: `${interval} s is no spacing of rows.`,
      remedy: 'Give more than 0 and at most 86400 seconds.',
    });
  }
  if (faults.length > 0) throw new BadInputError(faults);

  let recipe = sniffed.recipe;
  const needed = asked.filter(({ field }) => chosen.has(field) || !isSettled(field));
  const questions = needed.map((question) => {
    const at = chosen.get(question.field);
    const option = question.options[at ?? -1];
    if (option !== undefined) recipe = applyOption(recipe, option);
    const isTimed = interval_s !== undefined && /^time\b/.test(question.field);
    return { ...question, chosen: at ?? question.chosen, answered: option !== undefined || isTimed };
  });
  if (interval_s !== undefined) recipe = { ...recipe, time: { style: 'interval', interval_s } };
  const open = questions.filter(({ answered }) => !answered).map(openFault);
  return { recipe, questions, open };
}

function optionsText({ field, options }: ImportQuestion): string {
  return options.map(({ label }, at) => `--answer ${field}=${at + 1} (${label})`).join(', ');
}

function openFault(question: ImportQuestion): Fault {
  return {
    where: `--answer ${question.field}`,
    what: question.question,
    remedy: `Write one of: ${optionsText(question)}.`,
  };
}

function answerFault(
  answer: string,
  question: ImportQuestion | undefined,
  asked: readonly ImportQuestion[],
): Fault {
  const where = `--answer ${answer}`;
  if (question !== undefined)
    return { where, what: 'There is no such option.', remedy: `Write one of: ${optionsText(question)}.` };
  return {
    where,
    what: 'The log does not leave this open.',
    remedy:
      asked.length === 0
        ? 'Leave the answer out: there is no question.'
        : `Questions are: ${asked.map(({ field }) => field).join(', ')}.`,
  };
}
