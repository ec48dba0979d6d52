import type { HelpWanted } from '../threads.js';
import { startModule } from './start-module.js';

/** What a helper does with a message: takes its share of work after work, and returns when it is called elsewhere. */
export function helpSolver({ memory, ticket, index, threads }: HelpWanted): void {
  startModule(memory, 'helper').serve(ticket, index, threads);
}
