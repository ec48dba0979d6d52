/** Runs in a worker of its own and helps the solvers of another with their rows. Started by `lendSolverHelper` only. */
import { type HelpWanted, helpSolver } from '@soakbench/core/heat';

addEventListener('message', ({ data }: MessageEvent<HelpWanted>) => helpSolver(data));
