/** Runs in a worker of its own and helps the solvers of another with their rows. Started by `lendSolverHelper` only. */
import { type HelpWanted, helpSolver } from '@soakbench/core/heat';

const { port1, port2 } = new MessageChannel();
port1.onmessage = ({ data }: MessageEvent<HelpWanted>) => helpSolver(data);
// Says that it listens, and where.
postMessage(null, { transfer: [port2] });
