// @ts-check
/**
 * Makes a fresh clone ready: `node scripts/prepare.mjs start|test|build`. npm runs it before `start` and `test`, when
 * there may be no packages at all, so it and what it imports use nothing but Node.
 */
import { fileURLToPath } from 'node:url';
import { ensureBuilt } from './prepare/build.mjs';
import { ensureChromium } from './prepare/chromium.mjs';
import { ensureInstalled } from './prepare/install.mjs';
import { refuseNode } from './prepare/node-version.mjs';
import { stop } from './prepare/run-command.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const purpose = process.argv[2] ?? '';
if (!['start', 'test', 'build'].includes(purpose)) stop('Usage: node scripts/prepare.mjs start|test|build');

const refusal = refuseNode(process.versions.node);
if (refusal) stop(refusal);

// The browser comes first: whoever has to type a command learns it now and not after the installation.
if (purpose === 'test') await ensureChromium();
await ensureInstalled(root);
await ensureBuilt(root);
