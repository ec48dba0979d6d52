import { expect, test } from 'vitest';
import { BadInputError } from '../measure/index.js';
import { newBuild } from './new-build.js';
import { checkBuild } from './read-build.js';

function toldOf(change: Record<string, unknown>): string {
  try {
    checkBuild({ ...newBuild('a', 'A'), ...change });
  } catch (error) {
    if (!(error instanceof BadInputError)) throw error;
    return error.faults.map(({ where, what, remedy }) => `${where}: ${what} ${remedy}`).join('\n');
  }
  return '';
}
const dutyYear = (change: object) => ({
  dutyYear: {
    activities: [],
    charging: { habit: 'docked' },
    room: { monthly_C: [20] },
    ...change,
  },
});
const used = (change: object) =>
  dutyYear({ activities: [{ id: 'use', name: 'use', h_per_day: 2, use_W: 3, ...change }] });
const layer = (change: object) => ({
  setups: [
    { id: 's', name: 's', layers: [{ material: 'aluminium', name: 'plate', thickness_mm: 1, ...change }] },
  ],
});

// What a person reads who mistyped one field: where, the value, the bound with its unit, and what to enter.
test.each([
  [used({ h_per_day: 30 }), /h_per_day: It is 30; at most 24 hours a day\. Enter 24 hours a day or less\./],
  [used({ use_W: -1 }), /use_W: It is -1; at least 0 W\. Enter 0 W or more\./],
  [used({ use_W: '3' }), /use_W: It is "3", and must be a number\. Enter 3 without the quotation marks\./],
  [used({ use_W: 'three' }), /use_W: It is "three", and must be a number\. Enter a number, in W\./],
  [used({ use_W: undefined }), /use_W: It is missing\. Enter a number, in W\./],
  [used({ id: 'A b' }), /id: It is "A b"\. It must be lower-case letters, digits and hyphens\./],
  [used({ name: '' }), /name: It is empty\. Enter a text\./],
  [used({ name: 'x'.repeat(200) }), /name: It has 200 characters; at most 120 are kept\. Shorten it\./],
  [
    dutyYear({ charging: { habit: 'always' } }),
    /habit: It is "always", which is none .* Enter one of "docked", /,
  ],
  [
    dutyYear({ charging: { habit: 'docked', lowest: 20 } }),
    /lowest: It is 20; at most (0\.9|1)\. Enter a share of 1: 0\.2 for 20 %\./,
  ],
  [dutyYear({ days_per_week: 8 }), /days_per_week: It is 8; at most 7 days a week\./],
  [
    dutyYear({ days_per_week: 2.5 }),
    /days_per_week: It is 2\.5, and must be a whole number\. Enter a whole number\./,
  ],
  [
    dutyYear({ room: { monthly_C: [1, 2] } }),
    /monthly_C: It is \[1,2\]\. It must hold twelve months, or one number for all of them\./,
  ],
  [layer({ thickness_mm: 0 }), /thickness_mm: It is 0; it must be more than 0 mm\. Enter more than 0 mm\./],
  [layer({ k_W_per_mK: 9000 }), /k_W_per_mK: It is 9000; at most 5000 W\/\(m K\)\./],
  [{ setups: 'none' }, /setups: It is "none", and must be a list in square brackets\./],
])('%j', (change, words) => {
  const told = toldOf(change);
  expect(told).toMatch(words);
  expect(told).not.toMatch(/expected|<=|>=|Invalid|undefined/);
});
