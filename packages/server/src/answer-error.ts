import { BadInputError, type Fault, OutOfRangeError } from '@soakbench/core/measure';
import { NoSuchStepError, RevisionConflictError, UnknownBuildError } from '@soakbench/store';
import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import type { ContentfulStatusCode } from 'hono/utils/http-status';

/** What every "no" of the server looks like, whatever its status. */
export interface FaultAnswer {
  readonly faults: readonly Fault[];
}

export function refuse(c: Context, status: ContentfulStatusCode, fault: Fault): Response {
  return c.json({ faults: [fault] } satisfies FaultAnswer, status);
}

/** One plain sentence for whatever was thrown behind a route, and the status that belongs to it. */
export function answerError(error: unknown, c: Context): Response {
  if (error instanceof BadInputError) return c.json({ faults: error.faults } satisfies FaultAnswer, 422);
  if (error instanceof OutOfRangeError) {
    return refuse(c, 422, {
      where: error.fault.parameter,
      what: error.message,
      remedy: 'Correct the value.',
    });
  }
  if (error instanceof UnknownBuildError) {
    return refuse(c, 404, {
      where: error.build,
      what: error.message,
      remedy: 'Choose one from the list of builds.',
    });
  }
  if (error instanceof RevisionConflictError) {
    return refuse(c, 409, {
      where: error.build,
      what: `The build was changed elsewhere: it is at revision ${error.actual}, the change was made on ${error.expected}.`,
      remedy: 'Load the build again and repeat the change. Nothing was changed.',
    });
  }
  if (error instanceof NoSuchStepError) {
    return refuse(c, 409, { where: error.build, what: error.message, remedy: 'Load the build again.' });
  }
  if (error instanceof HTTPException) {
    return refuse(c, error.status as ContentfulStatusCode, {
      where: 'request',
      what: `${error.message}.`,
      remedy: 'Send the body in the form the route takes.',
    });
  }
  return answerFailure(error, c);
}

function answerFailure(error: unknown, c: Context): Response {
  const message = error instanceof Error ? error.message : String(error);
  if (/disk is full/i.test(message)) {
    return refuse(c, 507, {
      where: 'store',
      what: 'There is no space left to write.',
      remedy: 'Free some space and try again. Nothing was changed.',
    });
  }
  if (/database is locked|busy/i.test(message)) {
    return refuse(c, 503, {
      where: 'store',
      what: 'Another program holds the store.',
      remedy: 'Try again in a moment. Nothing was changed.',
    });
  }
  console.error(error);
  return refuse(c, 500, {
    where: 'server',
    what: `Something failed that should not: ${/[.!?]$/.test(message) ? message : `${message}.`}`,
    remedy: 'Try again. The terminal that Soakbench runs in shows more.',
  });
}
