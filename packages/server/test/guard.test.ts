import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { openStore, type Store } from '@soakbench/store';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { type RunningServer, serve } from '../src/index.js';
import { ask, makeFolder, sampleBuild } from './sample.js';

let folder: ReturnType<typeof makeFolder>;
let store: Store;
let server: RunningServer;
let port: string;

beforeEach(async () => {
  folder = makeFolder();
  const web = join(folder.path, 'web');
  mkdirSync(join(web, 'assets'), { recursive: true });
  writeFileSync(join(web, 'index.html'), '<!doctype html><title>Soakbench</title>');
  writeFileSync(join(web, 'assets', 'app-1a2b.js'), 'export {};');
  writeFileSync(join(web, 'assets', 'look-1a2b.css'), 'body{}');
  writeFileSync(join(web, 'kernel.wasm'), Uint8Array.of(0, 97, 115, 109));
  writeFileSync(join(web, 'settings.ini'), 'not for the network');
  writeFileSync(join(folder.path, 'secret.txt'), 'outside');
  mkdirSync(join(folder.path, 'web-other'));
  writeFileSync(join(folder.path, 'web-other', 'secret.txt'), 'outside');
  symlinkSync(join(folder.path, 'secret.txt'), join(web, 'link.txt'));
  store = await openStore(join(folder.path, 'store.db'));
  store.addBuild(sampleBuild('one'), new Map());
  server = await serve({ store, webRoot: web, port: 0 });
  port = new URL(server.url).port;
});
afterEach(async () => {
  await server.close();
  store.close();
  folder.remove();
});

describe('names', () => {
  test('the server answers to its loopback names at its port', async () => {
    for (const host of [`127.0.0.1:${port}`, `localhost:${port}`, `LOCALHOST:${port}`, `[::1]:${port}`]) {
      expect((await ask(server.url, '/api/builds', { headers: { host } })).status).toBe(200);
    }
  });

  test.each([
    'evil.example',
    'evil.example:PORT',
    'localhost.evil.example:PORT',
    '127.0.0.1',
    '127.0.0.1:1',
    '192.168.1.7:PORT',
    'localhost:PORT.evil.example',
  ])('a request to "%s" is refused, for reading, writing and pages alike', async (name) => {
    const headers = { host: name.replace('PORT', port) };
    for (const [method, path] of [
      ['GET', '/api/builds'],
      ['GET', '/'],
      ['DELETE', '/api/builds/one'],
      ['OPTIONS', '/api/builds'],
    ] as const) {
      const answer = await ask(server.url, path, { method, headers });
      expect([400, 403]).toContain(answer.status);
      expect(answer.text).not.toContain('Bench test');
    }
    expect(store.builds()).toHaveLength(1);
  });
});

test('a request that names no host is refused', async () => {
  const socket = connect(Number(port), '127.0.0.1');
  socket.write('GET /api/builds HTTP/1.0\r\n\r\n');
  let text = '';
  for await (const chunk of socket) text += chunk;
  expect(text).toMatch(/^HTTP\/1\.1 403/);
  expect(text).not.toContain('Bench test');
});

describe('origins', () => {
  const writes = [
    ['POST', '/api/builds'],
    ['PUT', '/api/builds/one'],
    ['DELETE', '/api/builds/one'],
    ['POST', '/api/builds/one/runs'],
    ['POST', '/api/builds/one/restore'],
  ] as const;

  test.each([
    { origin: 'https://evil.example' },
    { origin: 'null' },
    { origin: 'http://localhost:1' },
    { origin: 'http://localhost' },
    { origin: 'http://127.0.0.1:PORT.evil.example' },
    { origin: 'http://localhost:PORT' },
    { 'sec-fetch-site': 'cross-site' },
    { 'sec-fetch-site': 'same-site' },
  ])('a change from %o is refused', async (given) => {
    const headers = Object.fromEntries(
      Object.entries(given).map(([name, value]) => [name, value.replace('PORT', port)]),
    );
    for (const [method, path] of writes) {
      const answer = await ask(server.url, path, {
        method,
        headers: { ...headers, 'content-type': 'application/json' },
        body: '{"name":"x"}',
      });
      expect(answer.status).toBe(403);
      expect(JSON.parse(answer.text).faults[0].where).toBe('Origin');
    }
    expect(store.builds()).toHaveLength(1);
    expect(store.build('one')?.revision).toBe(1);
  });

  test('a change from the server’s own page, and from a program that is no browser, is taken', async () => {
    const body = '{"name":"New"}';
    const page: Record<string, string> = {
      origin: `http://127.0.0.1:${port}`,
      'sec-fetch-site': 'same-origin',
    };
    for (const own of [{}, page]) {
      const headers = { ...own, 'content-type': 'application/json' };
      expect((await ask(server.url, '/api/builds', { method: 'POST', headers, body })).status).toBe(201);
    }
  });
});

describe('headers', () => {
  test.each([
    ['/', 200],
    ['/api/builds', 200],
    ['/api/builds/none', 404],
    ['/missing.js', 404],
  ])('%s (%i) carries the policy and the other guards', async (path, status) => {
    const answer = await ask(server.url, path);
    expect(answer.status).toBe(status);
    expect(answer.headers['content-security-policy']).toBe(
      "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data:; " +
        "connect-src 'self'; font-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'",
    );
    expect(answer.headers).toMatchObject({
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-embedder-policy': 'require-corp',
      'cross-origin-resource-policy': 'same-origin',
    });
    expect(answer.headers).not.toHaveProperty('access-control-allow-origin');
  });

  test('a refused request carries them too', async () => {
    const answer = await ask(server.url, '/', { headers: { host: 'evil.example' } });
    expect(answer.status).toBe(403);
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
  });
});

describe('files', () => {
  test.each([
    ['/', 'text/html; charset=utf-8', 'no-cache'],
    ['/index.html', 'text/html; charset=utf-8', 'no-cache'],
    ['/assets/app-1a2b.js', 'text/javascript; charset=utf-8', 'public, max-age=31536000, immutable'],
    ['/assets/look-1a2b.css', 'text/css; charset=utf-8', 'public, max-age=31536000, immutable'],
    ['/kernel.wasm', 'application/wasm', 'no-cache'],
  ])('%s is served as %s', async (path, type, cache) => {
    const answer = await ask(server.url, path);
    expect(answer).toMatchObject({ status: 200, headers: { 'content-type': type, 'cache-control': cache } });
    const head = await ask(server.url, path, { method: 'HEAD' });
    expect(head).toMatchObject({ status: 200, text: '', headers: { 'content-type': type } });
  });

  test.each([
    '/../secret.txt',
    '/assets/../../secret.txt',
    '/%2e%2e/secret.txt',
    '/..%2fsecret.txt',
    '/%2e%2e%2fsecret.txt',
    '/assets/..%2f..%2fsecret.txt',
    '/..%5csecret.txt',
    '/..\\secret.txt',
    '/%252e%252e/secret.txt',
    '/../web-other/secret.txt',
    '/..%2fweb-other%2fsecret.txt',
    '//../secret.txt',
    '/link.txt',
    '/index.html%00.txt',
    '/%ff%fe.txt',
    '/%',
    '/settings.ini',
    '/assets/',
    '/assets',
  ])('%s leads nowhere', async (path) => {
    const answer = await ask(server.url, path);
    // 400 where the address is none at all.
    expect([400, 404]).toContain(answer.status);
    expect(answer.text).not.toContain('outside');
    expect(answer.text).not.toContain('not for the network');
  });
});

describe('listening', () => {
  test('it listens on loopback unless told otherwise, and tells where', () => {
    expect(server.url).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
  });

  test('a taken port is named, with the remedy', async () => {
    await expect(serve({ store, webRoot: folder.path, port: Number(port) })).rejects.toThrow(
      `127.0.0.1:${port}: Another program listens here already. End it, or choose another port with --port.`,
    );
  });

  test('an address of another machine is named', async () => {
    // TEST-NET-1 of RFC 5737: never assigned to a machine.
    await expect(serve({ store, webRoot: folder.path, port: 0, host: '192.0.2.1' })).rejects.toThrow(
      /does not belong to this machine/,
    );
  });

  test('it ends though a client holds a request open, long before that request would time out', async () => {
    const second = await serve({ store, webRoot: folder.path, port: 0 });
    const socket = connect(Number(new URL(second.url).port), '127.0.0.1');
    socket.on('error', () => {});
    await new Promise<void>((connected) => {
      socket.once('connect', () => connected());
    });
    // A request that never ends.
    socket.write('POST /api/builds HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100\r\n\r\n{');
    const before = Date.now();
    await second.close();
    // Left alone, Node gives up on a request after five minutes.
    expect(Date.now() - before).toBeLessThan(20_000);
    await expect(ask(second.url, '/')).rejects.toThrow(/ECONNREFUSED/);
    socket.destroy();
  }, 60_000);
});
