import { explainNoHeat, type HeatInputs } from '@soakbench/core/heat';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import { askWhatIfs, type ForecastOptions, forecastBuild, heatInputs } from '@soakbench/core/verdict';
import { type Context, Hono } from 'hono';
import { answerError } from './answer-error.js';
import type { Assess } from './assess.js';
import type { HeatJobs } from './heat-jobs.js';
import { refuseHeat } from './job-lines.js';

/** Most packs drawn in one answer: a server that counts longer keeps everybody waiting. */
const mostDraws = 20_000;

/**
 * What does the heat cost? The bracket of ratios, and the forecast in years or why there is none.
 *
 * `?heat=1` forecasts set-ups that were never soaked too, which takes the seconds of a heat model the first time; `?draws=` and `?seed=` set the
 * draws; `?what-ifs=SETUP` holds other habits against this one.
 */
export function lifeRoutes(assess: Assess, jobs: HeatJobs) {
  return new Hono().get('/api/builds/:id/life', async (c) => {
    try {
      const { stored, assessment } = assess(c.req.param('id'));
      const { build } = stored;
      const { options, wantsHeat, asked } = readWishes(
        c,
        build.setups.map(({ id }) => id),
      );
      const heat = wantsHeat
        ? await modelOf(heatInputs(build, assessment), c.req.raw.signal, jobs)
        : undefined;
      const all: ForecastOptions = heat === undefined ? options : { ...options, heat };
      const made = forecastBuild(build, assessment, all);
      const whatIfs = asked === undefined ? null : askWhatIfs(build, assessment, asked, all);
      return c.json({
        life: assessment.life,
        forecast: made.ok ? made.value.forecast : null,
        assumed: made.ok ? made.value.assumed : [],
        leftOut: made.ok ? made.value.leftOut : [],
        untried: made.ok ? made.value.untried : [],
        noForecast: made.ok ? null : made.reason,
        whatIfs: whatIfs?.ok ? whatIfs.value : null,
      });
    } catch (error) {
      return refuseHeat(error, c) ?? answerError(error, c);
    }
  });
}

async function modelOf(inputs: HeatInputs, signal: AbortSignal, jobs: HeatJobs) {
  const answer = await jobs.do({ kind: 'assess', inputs }, signal, () => undefined);
  if (!answer.ok) throw new BadInputError([explainNoHeat(answer.reason)]);
  return answer.value;
}

/** @throws BadInputError naming every wish that is none */
function readWishes(c: Context, setups: readonly string[]) {
  const faults: Fault[] = [];
  const whole = (name: 'draws' | 'seed', low: number, high: number) => {
    const typed = c.req.query(name);
    if (typed === undefined) return {};
    const value = /^\d{1,12}$/.test(typed) ? Number(typed) : Number.NaN;
    if (value >= low && value <= high) return { [name]: value };
    faults.push({
      where: name,
      what: `"${typed}" is no whole number from ${low} to ${high}.`,
      remedy: 'Give one, or leave it out.',
    });
    return {};
  };
  const options: ForecastOptions = { ...whole('draws', 10, mostDraws), ...whole('seed', 1, 2_147_483_646) };
  const asked = c.req.query('what-ifs');
  if (asked !== undefined && !setups.includes(asked))
    faults.push({
      where: 'what-ifs',
      what: `There is no set-up "${asked}".`,
      remedy: `Use one of: ${setups.join(', ')}.`,
    });
  if (faults.length > 0) throw new BadInputError(faults);
  return { options, asked, wantsHeat: ['1', 'true'].includes(c.req.query('heat') ?? '') };
}
