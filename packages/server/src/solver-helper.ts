/** Runs in a thread of its own and helps solvers with their rows. Started by `startSolverThreads` only. */
import { parentPort } from 'node:worker_threads';
import { helpSolver } from '@soakbench/core/heat';

if (parentPort === null) throw new Error('This file is a worker: it is started, not run.');
parentPort.on('message', helpSolver);
