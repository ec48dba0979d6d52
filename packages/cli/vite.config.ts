import { defineConfig } from 'vite';
import { sourceAliases } from '../../scripts/source-aliases.mjs';

/**
 * One file per verb instead of two hundred small ones: reading and linking them took a third of a short command's time. The threads that
 * compute heat are files of their own, as a thread begins with a file.
 */
export default defineConfig({
  resolve: { alias: sourceAliases },
  ssr: { noExternal: true },
  build: {
    ssr: true,
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2023',
    rolldownOptions: {
      input: {
        main: 'src/main.ts',
        'heat-worker': '../server/src/heat-worker.ts',
        'solver-helper': '../server/src/solver-helper.ts',
      },
      output: { entryFileNames: '[name].js', chunkFileNames: '[name].js' },
    },
  },
});
