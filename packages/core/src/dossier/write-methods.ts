import { assumedRunToRun_K } from '../compare/index.js';
import { formatNumber } from '../measure/index.js';
import { unchecked_u_K } from '../probes/index.js';
import { html, type Markup } from './markup.js';
import { cite } from './references.js';

interface Method {
  readonly title: string;
  readonly paragraphs: readonly string[];
}

/** How every figure was computed, in plain words. The figures named here are those of the code; a test compares them. */
const methods: readonly Method[] = [
  {
    title: 'From a log to temperatures',
    paragraphs: [
      'A log is kept byte for byte and named by its SHA-256, so anyone who holds the file can tell whether it is the one used here. The recipe printed with each run says how it was read. The same bytes with the same recipe always give the same numbers. A row or cell that cannot be read is counted and listed, never filled in.',
      'Where a log or a probe check holds raw signals, the sensor that the probe states makes temperatures of them: the reference function of a thermocouple, inverted exactly and with its cold junction added as a voltage [NIST-MONO-175]; the equation of a platinum resistor [IEC-60751]; the coefficients of an NTC [STEINHART-HART-68], or its table with a monotone curve through it [FRITSCH-BUTLAND-84]. A signal that is no temperature of the sensor is no reading.',
      'Each reading is then corrected by the latest check of its probe.',
    ],
  },
  {
    title: 'Probe checks',
    paragraphs: [
      'Probes are held in baths of known temperature: melting ice at 0 °C, and water boiling at the pressure of the room, whose temperature follows from the saturation line of water [IAPWS-R7-97]. Where the pressure was given at sea level, or only the altitude is known, the pressure at the kettle follows from the standard atmosphere [USSA-76] [ICAO-7488].',
      'The correction is a constant, or a straight line in the reading where the points lie far enough apart to carry one. It is fitted by weighted least squares, and offset and gain keep their covariance [JCGM-100]. What is uncertain about the readings belongs to one probe; what is uncertain about a bath is shared by all probes in it. A difference read by the same probe twice carries the same offset twice, so it cancels there; a margin to a limit carries it in full.',
      `A probe that was never checked is read as it is, with its maker’s standard uncertainty; where none is recorded, with what the class of its sensor allows [IEC-60584-1] [IEC-60751], all of it equally likely [JCGM-100]; where no class is known either, with ${formatNumber(unchecked_u_K, 2)} K, that of a class 1 thermocouple of type K. What a thermocouple’s cold junction adds is counted where the probe states it: 0.5 K for one that is logged and 1 K for one that was only stated, where the record gives no figure of its own (assumed); the latter drifts, so a check does not take it out.`,
    ],
  },
  {
    title: 'Phases and loops',
    paragraphs: [
      'Idle, load and cooling are found in the data: the run is cut where the sum of settling curves fits best, by dynamic programming [BAI-PERRON-03]. The largest jump of the slope upwards is the load coming on. A person may set the limits instead; each run says which it was.',
      'A load that repeats itself is recognised by its period, and the plateau is then the mean over whole loops; the peaks lie above it.',
    ],
  },
  {
    title: 'Plateau, and its uncertainty',
    paragraphs: [
      'A rise is the probe’s temperature less that of the room, the room seen through the device’s own time constant: a body answers a change of the room as slowly as a change of power. To the rises of a phase a curve is fitted that approaches a plateau by none, one or two exponentials, with sines of the loop’s period where the load loops. Plateau and amplitudes follow linearly from the time constants, so only these are searched for [GOLUB-PEREYRA-73]. The number of exponentials is chosen by Akaike’s criterion for small samples [BURNHAM-ANDERSON].',
      'A plateau counts as reached when the curve has no more than 0.2 K, or 2 % of its step where that is more, still to go. Otherwise it is extrapolated and says so. A phase shorter than 1.2 time constants is refused, and so are readings that rise in a straight line, follow no settling curve, or leave the plateau in doubt by more than half a kelvin and a tenth of the step: curves of different kinds fit such data alike and end at very different plateaus [NIST-STRD].',
      'The ± of a plateau is made up of the scatter of the readings about the curve, widened because neighbouring readings are alike (initial positive sequence of their correlations [GEYER-92]); of 15 % of what was still to come, because a device has more time constants than two (assumed); of half of what following the room with a lag changes; and of 1 K for a room whose temperature was noted, not logged, where its own doubt was not recorded (assumed). Contributions add as the root of the sum of squares, their degrees of freedom by the formula of Welch and Satterthwaite [JCGM-100].',
    ],
  },
  {
    title: 'Comparison',
    paragraphs: [
      'The run is the unit, never the sample: thousands of readings of one run are one observation, because what makes two runs of one set-up differ is how the pack was put in. Runs of one mounting do not stand for re-mountings.',
      'All runs enter one linear mixed model. Each set-up has a mean rise; sessions and mountings are random, each run has its own known ±, and what sessions and mountings scatter by is found by restricted maximum likelihood [PATTERSON-THOMPSON-71]. With fewer than three sessions, or few runs, the spread between sessions is not estimated: each session’s shift is taken out instead, and where even that is too much for the runs, sessions are left in and it is said. Which of these follows from the plan of the runs alone, not from their results.',
      'Uncertainties and degrees of freedom are those of Kenward and Roger, made for few runs [KENWARD-ROGER-97]; a spread that comes out as nought still counts as estimated. Where runs agree better than their own ± allows, the ± stands: agreement of a few runs is luck, not knowledge. One spread serves all set-ups.',
      'Differences to the baseline have intervals that hold for all of them at once with 95 % [DUNNETT-1955]; those between all pairs likewise, with unequal numbers of runs allowed for [KRAMER-1956]. A difference is shown when its chance under no difference at all, the whole family of questions counted, is below 0.05. Not shown does not mean equal. No worse is a claim of its own: one set-up is warmer by no more than a stated difference, by a one-sided test at 0.05 [SCHUIRMANN-87], raised for the number of pairs [HOLM-1979]; shown both ways, the two are alike within it. The chance of being the coolest is what multivariate t makes of the means, with no opinion beforehand.',
      `Where no set-up was run twice there is no finding: the spread is then assumed to be ${formatNumber(assumedRunToRun_K, 1)} K (common practice, no source), and what could have been told apart is named.`,
    ],
  },
  {
    title: 'Margins',
    paragraphs: [
      'Expected is the design ambient plus the mean rise at the warmest probe that the limit speaks of. Its doubt is that of the mean, of one further mounting (the spread from run to run, sessions included) and of the probe check, with effective degrees of freedom [JCGM-100]. The margin is the limit less the expected temperature. At least is what it is with 95 % coverage on the cautious side; the highest ambient is the one at which nothing of that would be left. A rise is taken to be the same in a warmer room, which errs on the cautious side.',
      'A margin holds when at least 2 K are left, wants a look when less is left, and stops when the limit may be passed. Where charging was not measured, the rise without it is the least it can be: that can show that a limit is passed, never that one holds.',
      'Limits come from the sources named beside them, not from this program.',
    ],
  },
  {
    title: 'Choice of the set-up',
    paragraphs: [
      'Of the set-ups shown to be cooler than the baseline, those that pass the fewest stop limits in use are kept; of these, the ones not shown to be warmer than the coolest; of these, the thinnest. Room is what a swelling pack needs, so none is spent on a gain that was not shown.',
    ],
  },
  {
    title: 'Heat model',
    paragraphs: [
      'Where a heat model was made, the device is a stack of boxes on a grid that conducts heat, with gaps that conduct and radiate and faces that give it off. What no record states well enough is a factor on it, with the spread that the table of materials gives. The factors are fitted to all settled rises under load by least squares with those spreads as priors [TARANTOLA-05]; how many combinations of them the readings settle is the trace of the resolution matrix [MENKE-12].',
      'Each measured set-up is then left out in turn, with all its runs, and predicted from the others. The root mean square of what that is off by is the error named beside every prediction, and the model’s own doubt is widened until it covers it. The error of the grid is found from a second grid of cells twice as long [ROACHE-94]. Lines of one temperature are drawn straight from cell to cell [LORENSEN-CLINE-87]. A predicted figure is marked as such wherever it stands and is never part of a margin that was measured.',
    ],
  },
  {
    title: 'Life bracket',
    paragraphs: [
      'The hours of an ordinary day are weighted by how much faster a cell ages at their temperature than at rest, by the law of [ARRHENIUS]. The activation energy is that of the time to a given loss: where a paper gives loss = k tᶻ it is the energy of k divided by z. The range runs over five published models [NAUMANN-18] [WANG-14] [WANG-11] [SMITH-17] [SCHMALSTIEG-14], none of them fitted to this pack. The wider range adds the 95 % interval of the difference under load. It is a ratio between set-ups, not a number of years.',
    ],
  },
];

export function writeMethods(): Markup {
  return html`${methods.map(
    ({
      title,
      paragraphs,
    }) => html`<section class="method"><h3>${title}</h3>${paragraphs.map((words) => html`<p>${cite(words)}</p>`)}</section>
`,
  )}`;
}
