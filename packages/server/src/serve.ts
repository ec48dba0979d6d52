import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { createAdaptorServer } from '@hono/node-server';
import { BadInputError } from '@soakbench/core/measure';
import type { Store } from '@soakbench/store';
import { createApp } from './app.js';
import { hostNames } from './guard.js';
import { HeatJobs } from './heat-jobs.js';

export interface ServeOptions {
  readonly store: Store;
  /** Folder of the built pages. */
  readonly webRoot: string;
  /** 0 takes any free port. */
  readonly port: number;
  /** The address to listen at; loopback by default. */
  readonly host?: string;
  /** Largest log taken in one import, bytes. */
  readonly largestLog_bytes?: number;
}

export interface RunningServer {
  readonly url: string;
  /** Ends the server. Requests that are under way get two seconds to finish. The store stays open. */
  close(): Promise<void>;
}

const patience_ms = 2000;

/**
 * Serves a store and the pages.
 *
 * @throws BadInputError where the port is taken or the address does not belong to this machine
 */
export async function serve(options: ServeOptions): Promise<RunningServer> {
  const host = options.host ?? '127.0.0.1';
  const hosts = new Set<string>();
  const heatJobs = new HeatJobs();
  const app = createApp(options.store, {
    webRoot: options.webRoot,
    hosts,
    heatJobs,
    largestLog_bytes: options.largestLog_bytes,
  });
  const server = createAdaptorServer({ fetch: app.fetch, hostname: host }) as Server;
  const port = await listen(server, host, options.port);
  // Only now is the port known; nobody can have asked before.
  for (const name of hostNames(host, port)) hosts.add(name);
  return {
    url: `http://${host.includes(':') ? `[${host}]` : host}:${port}/`,
    close: async () => {
      await heatJobs.close();
      await new Promise<void>((done) => {
        const end = setTimeout(() => server.closeAllConnections(), patience_ms);
        server.close(() => {
          clearTimeout(end);
          done();
        });
        server.closeIdleConnections();
      });
    },
  };
}

function listen(server: Server, host: string, port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => reject(listenFault(error, host, port)));
    server.listen(port, host, () => resolve((server.address() as AddressInfo).port));
  });
}

function listenFault(error: NodeJS.ErrnoException, host: string, port: number): Error {
  const where = `${host}:${port}`;
  switch (error.code) {
    case 'EADDRINUSE':
      return new BadInputError([
        {
          where,
          what: 'Another program listens here already.',
          remedy: 'End it, or choose another port with --port.',
        },
      ]);
    case 'EACCES':
      return new BadInputError([
        { where, what: 'This port is reserved.', remedy: 'Choose a port from 1024 to 65535 with --port.' },
      ]);
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
      return new BadInputError([
        {
          where,
          what: 'This address does not belong to this machine.',
          remedy: 'Leave the address out to listen on this machine only.',
        },
      ]);
    default:
      return error;
  }
}
