import { expect, test } from 'vitest';
import { makeBuild } from '../../../examples/generator/scenario.mjs';
import { renderDossier } from '../src/dossier/index.js';
import { type Build, checkBuild, probePlaces } from '../src/records/index.js';
import { assessBuild } from '../src/verdict/index.js';

/** Builds grow piece by piece in the pages: every half-entered state must be assessed and written, never thrown at the person. */
const made = makeBuild({ seed: 43 }) as { build: unknown; logs: Map<string, Uint8Array> };
const demo = checkBuild(JSON.parse(JSON.stringify(made.build)));
const logOf = (file: string) => made.logs.get(file);
const cache = new Map<string, unknown>();

const few = demo.runs.slice(0, 4);

const states: Record<string, Build> = {
  'without limits': { ...demo, limits: [] },
  'without probes’ zones': { ...demo, probes: demo.probes.map(({ zone: _, ...probe }) => probe) },
  'without a duty': { ...demo, duty: undefined },
  'with a duty of no use at all': {
    ...demo,
    duty: { load_h_per_day: 0, idle_h_per_day: 0, ambient_C: 25, rest_C: 22 },
  },
  'with every run set aside': { ...demo, runs: few.map((run) => ({ ...run, setAside: 'no reason' })) },
  'with charging runs only': { ...demo, runs: demo.runs.filter((run) => run.conditions?.charging) },
  'with a phase beyond the log': {
    ...demo,
    runs: few.map((run) => ({ ...run, phases: [{ kind: 'load' as const, from_s: 90_000, to_s: 99_000 }] })),
  },
  'with an idle phase only': {
    ...demo,
    runs: few.map((run) => ({ ...run, phases: [{ kind: 'idle' as const, from_s: 0, to_s: 3000 }] })),
  },
  'with a sliver of a phase': {
    ...demo,
    runs: few.map((run) => ({ ...run, phases: [{ kind: 'load' as const, from_s: 4000, to_s: 4001 }] })),
  },
  'with one run': { ...demo, runs: demo.runs.slice(0, 1) },
  'with one set-up': { ...demo, runs: demo.runs.filter(({ setup }) => setup === 'bare') },
  ...Object.fromEntries(
    probePlaces.map((place) => [
      `with all probes at: ${place}`,
      { ...demo, runs: few, probes: demo.probes.map((probe) => ({ ...probe, place })) },
    ]),
  ),
  ...Object.fromEntries(
    demo.probes.map(({ id }) => [
      `without what ${id} read`,
      {
        ...demo,
        runs: few.map((run) => ({
          ...run,
          recipe: {
            ...run.recipe,
            channels: run.recipe.channels.map((channel) =>
              channel.probe === id ? { ...channel, probe: undefined } : channel,
            ),
          },
        })),
      },
    ]),
  ),
};

test.each(Object.entries(states))('a build %s is assessed and written', { timeout: 60_000 }, (_, build) => {
  const assessment = assessBuild(build, logOf, cache);
  expect(assessment.verdict.answer.length).toBeGreaterThan(0);
  expect(JSON.stringify(assessment)).not.toMatch(/NaN|undefined|Infinity|not known (K|°C|W|h|mm)/);
  expect(renderDossier(build, assessment, logOf)).toContain('</html>');
});
