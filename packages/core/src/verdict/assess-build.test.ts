import { describe, expect, test } from 'vitest';
import { makeBuild } from '../../../../examples/generator/scenario.mjs';
import { plainText } from '../measure/index.js';
import { type Build, checkBuild, newBuild } from '../records/index.js';
import { assessBuild } from './assess-build.js';
import { everyContest } from './every-contest.js';

const made = makeBuild({ seed: 43 }) as { build: unknown; logs: Map<string, Uint8Array> };
const demo = checkBuild(JSON.parse(JSON.stringify(made.build)));
const cache = new Map<string, unknown>();
const assess = (build: Build) => assessBuild(build, (file) => made.logs.get(file), cache);

/** Only the first counted run of each set-up. */
function singleRuns(build: Build): Build {
  const seen = new Set<string>();
  return {
    ...build,
    runs: build.runs.filter((run) => {
      if (run.setAside !== undefined || run.conditions?.charging === true || seen.has(run.setup))
        return false;
      seen.add(run.setup);
      return true;
    }),
  };
}

describe('the demo', () => {
  const assessment = assess(demo);

  test('gives a verdict with margins, evidence and what is open', () => {
    const text = plainText(assessment.verdict.answer);
    expect(text).toMatch(/^Fit the plate\. At full load on a 32 °C day/);
    expect(text).toMatch(/passes the charging limit of 45 °C/);
    expect(assessment.verdict.exitCode).toBe(1); // charging at full load passes its limit
    expect(assessment.verdict.unresolved.join(' ')).toMatch(/strips/);
    expect(assessment.verdict.next.length).toBeGreaterThan(0);
  });

  test('is told to be fitted only where it keeps the limits of its use and has room in the bay', () => {
    const told = (change: Partial<Build>) => {
      const { verdict, stages } = assess({ ...demo, ...change });
      const state = stages.find(({ stage }) => stage === 'verdict');
      return { text: plainText(verdict.answer), level: state?.level, words: state?.words };
    };
    // The cells rise by 21 K with the plate: on a day of 41 °C they pass 60 °C.
    const hot = told({ designAmbient: { ambient_C: 41 } });
    expect(hot.text).toMatch(
      /^[A-Z].+ is not enough\. At full load on a 41 °C day C1 cell 1 reaches .* over /,
    );
    expect(hot).toMatchObject({ level: 'stop', words: expect.stringMatching(/: not enough$/) });
    // A zone's limit counts as much as a cell's, and is named: the processor rises by 40 K.
    const zone = told({
      limits: demo.limits.map((limit) => (limit.where === 'zone' ? { ...limit, limit_C: 60 } : limit)),
    });
    expect(zone.text).toMatch(/ is not enough\. .*takes the processor past its limit of 60 °C by /);
    if (demo.device === undefined) throw new Error('The demo has a device.');
    // Zones, plate and pack are 2.4, 0.6 and 9.9 mm.
    const thick = told({ device: { ...demo.device, bay_mm: 12 } });
    expect(thick.text).toMatch(/^Plate is 0\.90 mm too thick for the bay\. /);
    expect(thick).toMatchObject({ level: 'stop', words: 'plate: too thick' });
  });

  test('never says the word that no measurement can carry', () => {
    expect(JSON.stringify(assessment).toLowerCase()).not.toMatch(/\bsafe(ly|ty)?\b/);
  });

  test('is JSON all through and the same when computed again', () => {
    expect(JSON.parse(JSON.stringify(assessment))).toEqual(assessment);
    expect(assessBuild(demo, (file) => made.logs.get(file))).toEqual(assessment);
  });

  test('changes where a phase is moved by hand, and only that run', () => {
    const moved = assess({
      ...demo,
      runs: demo.runs.map((run) =>
        run.id === 'run-03' ? { ...run, phases: [{ kind: 'load', from_s: 4000, to_s: 10000 }] } : run,
      ),
    });
    const run = (from: typeof assessment, id: string) =>
      from.runs.runs.find((candidate) => candidate.run === id);
    expect(run(moved, 'run-03')).not.toEqual(run(assessment, 'run-03'));
    expect(run(moved, 'run-03')?.phases).toEqual([{ kind: 'load', from_s: 4000, to_s: 10000, by: 'person' }]);
    expect(run(moved, 'run-05')).toBe(run(assessment, 'run-05'));
  });
});

describe('builds that do not carry a verdict', () => {
  test('an empty one says what to do first', () => {
    const { verdict, stages, compare } = assess(newBuild('x', 'X'));
    expect(verdict.setup).toBeNull();
    expect(verdict.exitCode).toBe(1);
    expect(verdict.next[0]?.stage).toBe('probes');
    expect(compare.main).toBeNull();
    expect(stages.filter(({ built }) => built).every(({ words }) => words.length > 0)).toBe(true);
  });

  test('one run per set-up gives none, and names the difference that could have been seen', () => {
    const { verdict, compare } = assess(singleRuns(demo));
    expect(verdict.setup).toBeNull();
    expect(plainText(verdict.answer)).toMatch(/each set-up was run once/);
    expect(compare.main?.pairs.every(({ finding }) => finding === 'no-verdict')).toBe(true);
    expect(compare.main?.canShow_K).toBeGreaterThan(1);
    expect(verdict.next.some(({ title }) => /once more/.test(title))).toBe(true);
  });

  test('without a design ambient no margin is judged and its absence is named', () => {
    const { designAmbient: _, ...rest } = demo;
    const { verdict, compare, stages } = assess(rest as Build);
    expect(compare.margins).toEqual([]);
    expect(stages.find(({ stage }) => stage === 'verdict')?.level).toBe('look');
    expect(verdict.missing).toContain('design ambient');
    expect(verdict.exitCode).toBe(1);
  });

  test('a log that is gone or broken takes its run out, and says so', () => {
    const file = demo.runs[0]?.log.file;
    const gone = assessBuild(demo, (name) => (name === file ? undefined : made.logs.get(name)), cache);
    expect(gone.runs.unreadable[0]?.reason).toMatch(/is missing/);
    const broken = assessBuild(demo, (name) =>
      name === file ? new Uint8Array([0, 1, 2, 255]) : made.logs.get(name),
    );
    expect(broken.runs.unreadable).toHaveLength(1);
  });

  test('probes that nobody checked still compare, and say so', () => {
    const { probes, compare } = assess({ ...demo, probeChecks: [] });
    expect(plainText(probes.answer)).toMatch(/none checked/);
    expect(compare.main?.toBaseline.find(({ setup }) => setup === 'plate')?.finding).toBe('shown');
  });
});

test('where only charging was measured nothing decides, and what was measured is there still', () => {
  const { compare } = assess({
    ...demo,
    runs: demo.runs.filter(({ conditions }) => conditions?.charging === true),
  });
  expect(compare.main).toBeNull();
  expect(everyContest(compare).length).toBeGreaterThan(0);
  const whole = assess(demo).compare;
  expect(everyContest(whole)).toEqual([whole.main, ...whole.others]);
});
