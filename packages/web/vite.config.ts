import { defineConfig } from 'vite';
import { sourceAliases } from '../../scripts/source-aliases.mjs';

export default defineConfig({
  resolve: { alias: sourceAliases },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  worker: { format: 'es' },
  // Inlined assets would become data: addresses, which the page's content security policy refuses.
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2023',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
});
