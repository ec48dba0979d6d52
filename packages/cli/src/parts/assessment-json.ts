import { plainText, type Sentence } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';

/** Raised when a program that reads the older version would misunderstand the newer one. */
export const jsonVersion = 1;

/**
 * The one object that every answering action prints: the build, the answer as plain text, and the parts of the assessment
 * that were asked for, in the order of `Assessment`, exactly as `core` gives them.
 */
export function assessmentJson<Part extends keyof Assessment>(
  build: Pick<Build, 'id' | 'name' | 'invented'>,
  answer: Sentence,
  parts: Pick<Assessment, Part>,
) {
  return {
    format: 'soakbench-answer',
    version: jsonVersion,
    build: { id: build.id, name: build.name, invented: build.invented === true },
    answer: plainText(answer),
    ...parts,
  };
}
