/** Everything that can be typed. Each action is loaded when it is asked for, so that none waits for what it does not use. */
import type { Verb } from './parts/help.js';

export const verbs: readonly Verb[] = [
  {
    words: 'verdict',
    summary: 'Which set-up, why, and what would change it?',
    load: async () => (await import('./verdict/show.js')).showVerdict,
  },
  {
    words: 'probes check',
    summary: 'Can the readings be trusted?',
    load: async () => (await import('./probes/check.js')).checkProbes,
  },
  {
    words: 'runs import',
    summary: 'Take a log into a build folder',
    load: async () => (await import('./runs/import.js')).importRun,
  },
  {
    words: 'runs show',
    summary: 'What did the bench measure?',
    load: async () => (await import('./runs/show.js')).showRuns,
  },
  {
    words: 'compare',
    summary: 'Is the better one really better?',
    load: async () => (await import('./compare/show.js')).showCompare,
  },
  {
    words: 'compare plan',
    summary: 'Draw the order of the runs to come',
    load: async () => (await import('./compare/plan.js')).planRuns,
  },
  {
    words: 'heat predict',
    summary: 'What would an untried set-up do?',
    load: async () => (await import('./heat/predict.js')).predictHeat,
  },
  {
    words: 'heat calibrate',
    summary: 'How far does the heat model follow the runs?',
    load: async () => (await import('./heat/calibrate.js')).calibrateHeat,
  },
  {
    words: 'heat explore',
    summary: 'Is anything worth cutting, of all that could be?',
    load: async () => (await import('./heat/explore.js')).exploreHeat,
  },
  {
    words: 'heat bench',
    summary: 'How fast does the heat model solve on this machine?',
    load: async () => (await import('./heat/bench.js')).benchHeat,
  },
  {
    words: 'life',
    summary: 'What does the heat cost?',
    load: async () => (await import('./life/show.js')).showLife,
  },
  {
    words: 'dossier',
    summary: 'Write the report: one HTML file that stands by itself',
    load: async () => (await import('./dossier/write.js')).writeDossier,
  },
  {
    words: 'serve',
    summary: 'Serve the pages on this machine',
    load: async () => (await import('./serve/start.js')).startServing,
  },
  {
    words: 'builds new',
    summary: 'Begin a build folder from nothing',
    load: async () => (await import('./builds/new.js')).beginBuild,
  },
  {
    words: 'builds list',
    summary: 'List the builds of a store',
    load: async () => (await import('./builds/list.js')).listBuilds,
  },
  {
    words: 'builds import',
    summary: 'Take a build folder into a store',
    load: async () => (await import('./builds/import.js')).importBuild,
  },
  {
    words: 'builds export',
    summary: 'Write a build of a store as a folder',
    load: async () => (await import('./builds/export.js')).exportBuild,
  },
];
