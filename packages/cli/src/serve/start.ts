import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import { openStore } from '@soakbench/store';
import { storeOption, storePath } from '../builds/store-file.js';
import { packageRoot } from '../package-root.js';
import { defineAction } from '../parts/action.js';
import { note, notePage, say } from '../parts/output.js';
import { wrap } from '../parts/page.js';
import { addDemo } from './add-demo.js';
import { awaitEnd } from './await-end.js';
import { mayOpenBrowser, openBrowser } from './open-browser.js';
import { readPort, serveAtFreePort, usualPort } from './serve-at-free-port.js';

const webRoot = fileURLToPath(new URL('../web/dist/', packageRoot));

const loopback = new Set(['127.0.0.1', 'localhost', '::1']);

export const startServing = defineAction({
  words: 'serve',
  about:
    'Serves the pages until Ctrl-C. Prints one line with the address once they can be opened. Listens on this machine only unless --host says otherwise.',
  operands: {},
  options: {
    store: storeOption,
    port: {
      type: 'string',
      value: 'N',
      about: `the port; ${usualPort}, or the next free one, where it is not named; 0 takes any`,
    },
    host: { type: 'string', value: 'H', about: 'the address to listen at; 127.0.0.1 where it is not named' },
    demo: { type: 'boolean', about: 'put the invented example into the store, unless it is or was there' },
    open: { type: 'boolean', about: 'open the browser, where there is a display and CI is not set' },
    'no-open': { type: 'boolean', about: 'open no browser, whatever else is said' },
  },
  examples: [
    {
      command: 'npx soakbench serve --demo --store try/bench.sqlite --no-open',
      shows: 'the pages with the invented example in them; Ctrl-C ends it',
    },
  ],
  async run(_operands, { store: named, port, host, demo, open, 'no-open': noOpen }) {
    const end = awaitEnd();
    const page = notePage();
    const tell = (text: string) => note(wrap(page, text));
    if (!existsSync(join(webRoot, 'index.html'))) throw new BadInputError([pagesFault()]);
    const wantedPort = readPort(port);
    const file = storePath(named);
    tell(`${existsSync(file) ? 'Opening' : 'Making'} the store ${file}`);
    const store = await openStore(file);
    try {
      if (demo) addDemo(store, tell);
      if (host !== undefined && !loopback.has(host)) {
        tell(`Everyone who can reach ${host} can read and change every build: there are no accounts yet.`);
      }
      const { serve } = await import('@soakbench/server');
      const server = await serveAtFreePort(
        (at) => serve({ store, webRoot, port: at, host }),
        wantedPort,
        tell,
      );
      say([`Soakbench is at ${server.url}  (Ctrl-C ends it)`]);
      if (open && !noOpen && mayOpenBrowser(process.platform, process.env)) openBrowser(server.url);
      await end.asked();
      // Requests under way get a moment; whoever asked for the end does not wait for them.
      await Promise.race([server.close(), new Promise((resolve) => setTimeout(resolve, 500).unref())]);
    } finally {
      store.close();
    }
    // A connection that a browser keeps open would keep the process alive.
    process.exit(0);
  },
});

function pagesFault(): Fault {
  return {
    where: webRoot,
    what: 'The pages are not built.',
    remedy: 'Run `npm run build` or `npm start` once in the folder of Soakbench.',
  };
}
