/**
 * Properties meet the same draws in every run, so that a run that fails fails again, wherever it is repeated.
 * `SOAKBENCH_DRAWS=N npx vitest run --project unit` draws others.
 */
import fc from 'fast-check';

fc.configureGlobal({ seed: Number(process.env['SOAKBENCH_DRAWS'] ?? 1) });
