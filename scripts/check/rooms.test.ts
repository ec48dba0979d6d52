import { expect, test } from 'vitest';
import { findRoomFaults } from './rooms.mjs';

const plan = { stages: ['probes', 'heat'], built: ['probes'], foundations: ['measure'] };
const good = { core: ['probes'], server: ['probes'], cli: ['probes'], web: ['probes'] };

test('rooms that agree with the plan are no fault', () => {
  expect(findRoomFaults(plan, { ...good, core: ['measure', 'probes'], cli: ['probes', 'parts'] })).toEqual(
    [],
  );
});

test.each([
  [{ ...good, core: ['measure'] }, 'packages/core/src has no room for probes, which stages.ts calls built.'],
  [
    { ...good, cli: ['probes', 'heat'] },
    'packages/cli/src/heat exists, but stages.ts does not call heat built.',
  ],
  [
    { ...good, core: ['probes', 'odds'] },
    'packages/core/src/odds is neither a stage nor one of the foundations (measure).',
  ],
])('%o is found', (rooms, fault) => {
  expect(findRoomFaults(plan, rooms)).toEqual([fault]);
});
