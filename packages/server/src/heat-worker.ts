/** Runs in a thread of its own: takes heat work as messages, answers with progress and results. Started by `HeatThread` only. */
import { parentPort, workerData } from 'node:worker_threads';
import { HeatWorker } from '@soakbench/core/heat';
import { BadInputError } from '@soakbench/core/measure';
import type { HeatMessage, HeatReply, HeatThreadSetup } from './heat-threads.js';
import { startSolverThreads } from './solver-threads.js';

const worker = new HeatWorker();
const port = parentPort;
if (port === null) throw new Error('This file is a worker: it is started, not run.');

const { helpers } = workerData as HeatThreadSetup;
if (helpers > 0) startSolverThreads(helpers);

const reply = (message: HeatReply) => port.postMessage(message);

port.on('message', ({ id, work }: HeatMessage) => {
  try {
    const answer = worker.answer(work, {
      onProgress: (share, doing) => reply({ id, kind: 'progress', share, doing }),
    });
    reply({ id, kind: 'answer', answer });
  } catch (error) {
    reply({
      id,
      kind: 'failed',
      message: error instanceof Error ? error.message : String(error),
      faults: error instanceof BadInputError ? error.faults : null,
    });
  }
});
