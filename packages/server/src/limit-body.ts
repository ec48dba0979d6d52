import type { MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { refuse } from './answer-error.js';

/**
 * Refuses a body of more than `largest_bytes` before it is read into memory.
 *
 * @param remedy what the person can do about it
 */
export function limitBody(largest_bytes: number, remedy: string): MiddlewareHandler {
  return bodyLimit({
    maxSize: largest_bytes,
    onError: (c) =>
      refuse(c, 413, {
        where: 'request',
        what: `This is larger than the ${Math.floor(largest_bytes / 1e6)} MB the server takes at once.`,
        remedy: `${remedy} Nothing was changed.`,
      }),
  });
}
