/** The process that the kill test kills: a real server over a real store. Usage: node kill-entry.js STORE */
import { openStore } from '@soakbench/store';
import { serve } from '../src/index.js';

const file = process.argv[2];
if (file === undefined) throw new Error('Name the store.');
const store = await openStore(file);
const server = await serve({ store, webRoot: '.', port: 0 });
console.log(server.url);
