import type { HeatAnswers } from '@soakbench/core/heat';
import { heatInputs } from '@soakbench/core/verdict';
import { Hono } from 'hono';
import type { Assess } from './assess.js';
import type { HeatJobs } from './heat-jobs.js';
import { answerJob } from './job-lines.js';

/**
 * What would an untried set-up do?
 *
 * Seconds of work the first time, nothing the second. Whoever accepts `application/x-ndjson` is told how far it is, line by line; anybody else
 * waits for the answer. Going away calls the work off.
 */
export function heatRoutes(assess: Assess, jobs: HeatJobs) {
  return new Hono().get('/api/builds/:id/heat', (c) =>
    answerJob<HeatAnswers['assess']>(
      c,
      (signal, onProgress) => {
        const { stored, assessment } = assess(c.req.param('id'));
        return jobs.do({ kind: 'assess', inputs: heatInputs(stored.build, assessment) }, signal, onProgress);
      },
      (answer) => c.json(answer),
    ),
  );
}
