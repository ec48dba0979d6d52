import { render } from 'preact';
import { App } from './app.js';
import { followHash } from './router.js';

followHash();
const root = document.getElementById('app');
if (root) render(<App />, root);
