import { readFile, realpath } from 'node:fs/promises';
import { extname, join, resolve, sep } from 'node:path';
import type { Handler } from 'hono';
import { refuse } from './answer-error.js';

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
  '.txt': 'text/plain; charset=utf-8',
  '.map': 'application/json; charset=utf-8',
};

/**
 * Serves the files below a folder, and nothing outside it.
 *
 * @param root the folder; `index.html` stands for it
 */
export function serveFiles(root: string): Handler {
  return async (c) => {
    const file = await findFile(root, c.req.path);
    if (!file) {
      return refuse(c, 404, {
        where: c.req.path,
        what: 'There is no such page.',
        remedy: 'Start at the list of builds: /',
      });
    }
    // The bundler puts a hash of the content into these names, so what they stand for never changes.
    const lasting = c.req.path.startsWith('/assets/');
    return c.body(file.bytes, 200, {
      'content-type': file.type,
      'cache-control': lasting ? 'public, max-age=31536000, immutable' : 'no-cache',
    });
  };
}

/** The file a path stands for. The real path decides, so neither dots nor links lead out of the folder. */
async function findFile(
  root: string,
  path: string,
): Promise<{ bytes: Uint8Array<ArrayBuffer>; type: string } | undefined> {
  try {
    const wanted = decodeURIComponent(path.endsWith('/') ? `${path}index.html` : path);
    const type = types[extname(wanted)];
    if (!type || /[\0\\]/.test(wanted)) return undefined;
    const base = await realpath(resolve(root));
    const file = await realpath(join(base, wanted));
    if (!file.startsWith(base + sep)) return undefined;
    return { bytes: new Uint8Array(await readFile(file)), type };
  } catch {
    // Not there, not a file, or not a well-formed path: to the person asking it is all the same.
    return undefined;
  }
}
