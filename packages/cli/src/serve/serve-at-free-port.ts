import { BadInputError } from '@soakbench/core/measure';

export const usualPort = 4380;
/** How many ports are tried after the usual one. */
const tries = 20;

/** The port a person named, or undefined. @throws BadInputError */
export function readPort(typed: string | undefined): number | undefined {
  if (typed === undefined) return undefined;
  if (/^\d{1,5}$/.test(typed) && Number(typed) <= 65_535) return Number(typed);
  throw new BadInputError([
    {
      where: '--port',
      what: `"${typed}" is no port.`,
      remedy: 'Give a number from 1 to 65535, or 0 for any.',
    },
  ]);
}

/**
 * Serves at the named port, or at the usual one or the next that is free.
 *
 * @throws BadInputError where the named port, or every port tried, is taken
 */
export async function serveAtFreePort<T>(
  serve: (port: number) => Promise<T>,
  named: number | undefined,
  tell: (text: string) => void,
): Promise<T> {
  if (named !== undefined) return serve(named);
  let refusal: unknown;
  for (let port = usualPort; port < usualPort + tries; port++) {
    try {
      const server = await serve(port);
      if (port !== usualPort) tell(`Port ${usualPort} is taken; using ${port}.`);
      return server;
    } catch (error) {
      if (!(error instanceof BadInputError)) throw error;
      // The first refusal names the usual port, which is the one to be told about.
      refusal ??= error;
    }
  }
  throw refusal;
}
