/**
 * The arrows between packages and rooms, as docs/architecture.md draws them. Inside `core` they follow the lists in
 * `packages/core/src/stages.ts` and scripts/check/foundations.json, so that a new room needs no rule of its own.
 */
const { readFileSync } = require('node:fs');
const { join } = require('node:path');

/** Lowest first: each may use those before it. */
const foundations = require('./scripts/check/foundations.json');
const stages = [
  ...readFileSync(join(__dirname, 'packages/core/src/stages.ts'), 'utf8').matchAll(/\{ name: '([a-z]+)'/g),
].map((match) => match[1]);
if (stages.length === 0) throw new Error('No stages were found in packages/core/src/stages.ts');
const rooms = [...foundations, ...stages];

const tests = '\\.test\\.tsx?$|/test/';
const core = '^packages/core/src/';
const oneOf = (names) => `(?:${names.join('|')})`;

const roomRules = rooms.flatMap((room, place) => {
  const rest = rooms.slice(place + 1);
  return rest.length === 0
    ? []
    : [
        {
          name: `core-${room}-looks-back-only`,
          comment: `${room} uses the foundations and the stages before it; what it needs of a later one sinks lower or is passed in.`,
          severity: 'error',
          from: { path: `${core}${room}/`, pathNot: tests },
          to: { path: `${core}${oneOf(rest)}/` },
        },
      ];
});

module.exports = {
  forbidden: [
    ...roomRules,
    {
      name: 'core-rooms-are-listed',
      comment: 'Every folder of core is a foundation or a stage.',
      severity: 'error',
      from: {},
      to: { path: `${core}[^/]+/`, pathNot: `${core}${oneOf(rooms)}/` },
    },
    {
      name: 'rooms-are-entered-by-their-door',
      comment: 'What index.ts does not list is private to its room.',
      severity: 'error',
      from: { path: `${core}([^/]+)/`, pathNot: tests },
      to: { path: `${core}[^/]+/`, pathNot: [`${core}$1/`, `${core}[^/]+/index\\.ts$`] },
    },
    {
      name: 'packages-enter-core-by-its-doors',
      severity: 'error',
      from: { path: '^packages/(?!core/)', pathNot: tests },
      to: { path: core, pathNot: `${core}(?:[^/]+/index|stages)\\.ts$` },
    },
    {
      name: 'core-has-no-io',
      comment: 'core runs in browser, worker and Node alike.',
      severity: 'error',
      from: { path: core, pathNot: tests },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'core-needs-only-zod',
      severity: 'error',
      from: { path: core, pathNot: tests },
      to: { path: 'node_modules/', pathNot: 'node_modules/zod/' },
    },
    ...[
      { from: 'core', to: ['store', 'server', 'cli', 'web'] },
      { from: 'store', to: ['server', 'cli', 'web'] },
      { from: 'server', to: ['cli', 'web'] },
      { from: 'cli', to: ['web'] },
      { from: 'web', to: ['store', 'cli'] },
    ].map((arrow) => ({
      name: `${arrow.from}-not-to-${arrow.to.join('-')}`,
      severity: 'error',
      from: { path: `^packages/${arrow.from}/`, pathNot: tests },
      to: { path: `^packages/${oneOf(arrow.to)}/` },
    })),
    {
      name: 'web-knows-the-server-by-its-types',
      severity: 'error',
      from: { path: '^packages/web/src/', pathNot: tests },
      to: { path: '^packages/server/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'page-code-has-no-node',
      severity: 'error',
      from: { path: '^packages/web/src/', pathNot: tests },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'no-tests-in-products',
      severity: 'error',
      from: { path: '^packages/', pathNot: tests },
      to: { path: tests },
    },
    {
      name: 'no-circles',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'everything-resolves',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
  ],
  options: {
    tsConfig: { fileName: 'tsconfig.tests.json' },
    tsPreCompilationDeps: 'specify',
    exclude: { path: '^packages/[^/]+/(dist|dist-types)/' },
    doNotFollow: { path: 'node_modules' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'types', 'default'] },
  },
};
