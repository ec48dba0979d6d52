/** What goes out, and where: answers to standard output, everything else to standard error. */
import { type Page, pageOf, softenBlanks } from './page.js';

/** Answers. */
export function say(lines: readonly string[]): void {
  process.stdout.write(`${softenBlanks(lines.join('\n'))}\n`);
}

/** Progress, faults, and how to go on. */
export function note(lines: readonly string[]): void {
  process.stderr.write(`${softenBlanks(lines.join('\n'))}\n`);
}

/** An answer for a program. */
export function sayJson(data: unknown): void {
  process.stdout.write(`${JSON.stringify(data, null, 2)}\n`);
}

export function answerPage(): Page {
  return pageOf(process.stdout, process.env);
}

export function notePage(): Page {
  return pageOf(process.stderr, process.env);
}

/** Whoever reads along may leave early, as `head` does; that is no fault. */
export function allowEarlyLeave(): void {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'EPIPE') throw error;
      process.exit();
    });
  }
}
