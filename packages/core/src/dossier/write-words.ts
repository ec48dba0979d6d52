import { html, type Markup } from './markup.js';

/** The words and signs a reader needs, each with one meaning. */
const words: readonly (readonly [string, string])[] = [
  [
    '±',
    'one standard uncertainty u: the standard deviation of what the true value may be. With many degrees of freedom the true value lies within ± u in about two cases of three, and within ± 2 u in about nineteen of twenty.',
  ],
  [
    'coverage, 95 %',
    'an interval made this way contains the true value in 95 of 100 cases. The fewer the degrees of freedom, the wider it is for the same u.',
  ],
  ['degrees of freedom', 'how much evidence a ± rests on. With few of them the ± itself is uncertain.'],
  [
    'at once',
    'said of intervals that hold together for a whole family of comparisons, with 95 % for all of them.',
  ],
  [
    'p',
    'how often a difference as large as this one would turn up if there were none, the whole family of questions counted.',
  ],
  [
    'shown, not shown, no verdict',
    'p is below 0.05; it is not; there were no repeats to judge by. Not shown does not mean that there is no difference.',
  ],
  [
    'rise',
    'settled temperature less that of the room, in K. A kelvin as a difference is as large as a degree Celsius.',
  ],
  ['plateau', 'what the settling curve tends to in a phase: reached, or extrapolated from the curve.'],
  ['time constant', 'how long the device takes to cover 63 % of the way to its plateau.'],
  ['set-up', 'what lies between the zones and the pack: ordered layers.'],
  ['zone', 'a part of the board that gives off heat.'],
  [
    'run, mounting, session',
    'one log with one set-up; one way the pack was put in; the runs of one day and room.',
  ],
  ['design ambient', 'the warmest room in which the limits are to hold.'],
  ['margin', 'limit less expected temperature, in K; below zero the limit is passed.'],
  [
    'at least, highest ambient',
    'the margin that is left, and the ambient up to which the limit holds, with 95 % coverage on the cautious side.',
  ],
  [
    'prefer, wear, stop',
    'said of a temperature: better below; within the limit, but the cells age faster; not to be passed.',
  ],
  [
    'holds, look',
    'said of a check or margin: it stands; it stands, with little to spare or with a fault to know of.',
  ],
  [
    'flag',
    'something about a run that a reader must know, with its effect on the result; a ring with its number shows where in the chart.',
  ],
  ['looped load', 'a load that repeats itself; its plateau is the mean over whole loops.'],
];

export function writeWords(): Markup {
  return html`<dl class="words">${words.map(([word, meaning]) => html`<div><dt>${word}</dt><dd>${meaning}</dd></div>`)}</dl>`;
}
