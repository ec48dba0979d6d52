/** What keeps pages from elsewhere away from a server that listens on this machine. */
import type { MiddlewareHandler } from 'hono';
import { refuse } from './answer-error.js';

const pagePolicy = [
  "default-src 'none'",
  // Heavy kernels are WebAssembly, which counts as evaluation.
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' data:",
  "connect-src 'self'",
  "font-src 'self'",
  "worker-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'self'",
].join('; ');

const headers: Readonly<Record<string, string>> = {
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-embedder-policy': 'require-corp',
  'cross-origin-resource-policy': 'same-origin',
};

/** Headers of every answer. A route that sets its own content security policy keeps it. */
export const setHeaders: MiddlewareHandler = async (c, next) => {
  await next();
  for (const [name, value] of Object.entries(headers)) c.res.headers.set(name, value);
  if (!c.res.headers.has('content-security-policy')) c.res.headers.set('content-security-policy', pagePolicy);
  if (!c.res.headers.has('cache-control')) c.res.headers.set('cache-control', 'no-store');
};

/**
 * Answers only requests that name this server, and takes changes only from its own pages.
 *
 * A page elsewhere can point its own name at this machine (DNS rebinding); the Host header then still bears that name. A
 * page elsewhere can also send forms here; the Origin header then bears its address. Programs other than browsers send
 * no Origin, and no page elsewhere can leave it out.
 *
 * @param hosts the Host headers to answer, with the port where it is not 80
 */
export function guard(hosts: ReadonlySet<string>): MiddlewareHandler {
  return async (c, next) => {
    const host = c.req.header('host')?.toLowerCase() ?? '';
    if (!hosts.has(host)) {
      return refuse(c, 403, {
        where: 'Host',
        what: `This server does not go by the name "${host}".`,
        remedy: `Use one of: ${[...hosts].join(', ')}.`,
      });
    }
    const reads = c.req.method === 'GET' || c.req.method === 'HEAD';
    if (!reads && !isOwnPage(c.req.header('origin'), c.req.header('sec-fetch-site'), host)) {
      return refuse(c, 403, {
        where: 'Origin',
        what: 'Changes are taken only from the pages of this server.',
        remedy: `Open http://${host} and make the change there.`,
      });
    }
    return next();
  };
}

/** The page must come from the very name the request goes to; another port of this machine is another program. */
function isOwnPage(origin: string | undefined, site: string | undefined, host: string): boolean {
  if (site !== undefined && site !== 'same-origin' && site !== 'none') return false;
  return origin === undefined || origin === `http://${host}` || origin === `https://${host}`;
}

/** The names a server goes by that listens at `host` and `port`. */
export function hostNames(host: string, port: number): string[] {
  const bare = host.includes(':') ? `[${host}]` : host;
  const names = [...new Set(['localhost', '127.0.0.1', '[::1]', bare.toLowerCase()])];
  return names.flatMap((name) => (port === 80 ? [name, `${name}:80`] : [`${name}:${port}`]));
}
