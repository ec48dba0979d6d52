import { describe, expect, test } from 'vitest';
import { makeBuild } from '../../../../examples/generator/scenario.mjs';
import { formatEstimate, formatKelvin, formatNumber } from '../measure/index.js';
import { type Build, checkBuild, newBuild } from '../records/index.js';
import { assessBuild } from '../verdict/index.js';
import { renderDossier } from './index.js';

const made = makeBuild() as { build: unknown; logs: Map<string, Uint8Array> };
const demo = checkBuild(JSON.parse(JSON.stringify(made.build)));
const logOf = (file: string) => made.logs.get(file);
const cache = new Map<string, unknown>();
const assess = (build: Build, logs = logOf) => assessBuild(build, logs, cache);

/** What stands between two headings, as text with plain spaces. */
function partOf(html: string, id: string): string {
  const part = html.split('<section class="part"').find((each) => each.startsWith(` id="${id}"`)) ?? '';
  return textOf(part);
}

function textOf(html: string): string {
  return html
    .replace(/<svg[\s\S]*?<\/svg>/g, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/&#39;/g, "'")
    .replace(/&quot;/g, '"')
    .replace(/&lt;/g, '<')
    .replace(/&amp;/g, '&')
    .replace(/\s+/g, ' ');
}

const ids = (html: string) => [...html.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);

describe('the dossier of the demo', { timeout: 60_000 }, () => {
  const assessment = assess(demo);
  const html = renderDossier(demo, assessment, logOf);

  test('is the same each time: it has no clock and no chance in it', () => {
    expect(renderDossier(demo, assessment, logOf)).toBe(html);
  });

  test('has its parts in the order in which a reader asks', () => {
    const parts = [...html.matchAll(/<section class="part" id="([^"]+)"/g)].map(([, id]) => id);
    expect(parts).toEqual([
      'section',
      'margins',
      'compare',
      'runs',
      'probes',
      'life',
      'grounds',
      'methods',
      'references',
      'cautions',
      'setups',
      'words',
    ]);
    expect(html.indexOf('class="answer"')).toBeLessThan(html.indexOf('id="section"'));
  });

  test('gives each margin of the chosen set-up with its limit and source, as assessed', () => {
    const text = partOf(html, 'margins');
    const mine = assessment.compare.margins.filter(({ setup }) => setup === assessment.verdict.setup);
    expect(mine.length).toBeGreaterThan(5);
    for (const { expected_C, margin_K, atLeast_K, limit } of mine) {
      if (expected_C === null || margin_K === null || atLeast_K === null) continue;
      const expected =
        expected_C.u > 0 ? formatEstimate(expected_C, '°C') : `${formatNumber(expected_C.value)} °C`;
      expect(text).toContain(
        `${limit.source} ${expected} ${formatKelvin(margin_K)} ${formatKelvin(atLeast_K)}`,
      );
    }
  });

  test('gives every rise and every difference with its interval, as assessed', () => {
    const text = partOf(html, 'compare');
    const { main, others } = assessment.compare;
    if (main === null || main.canShow_K === null) throw new Error('The demo has no comparison.');
    for (const { cooler_K, simultaneous95_K } of [...main.pairs, ...main.toBaseline]) {
      const range = simultaneous95_K.map((limit) => formatNumber(limit)).join(' to ');
      expect(text).toContain(`${formatEstimate(cooler_K, 'K')} ${range}`);
    }
    for (const { setups } of [main, ...others])
      for (const { rise_K, runs } of setups)
        expect(text).toContain(`${formatEstimate(rise_K, '').trim()} (${runs.length})`);
    expect(text).toContain(formatKelvin(main.canShow_K, main.canShow_K / 10));
    expect(text).toContain(
      `${formatKelvin(main.runToRun.sd_K, main.runToRun.sd_K / 10)}, ${main.runToRun.dof} degrees of freedom`,
    );
  });

  test('gives every run its chart in both widths, its plateaus, flags, log and recipe', () => {
    const runs = html.split('<section class="run"').slice(1);
    expect(runs).toHaveLength(demo.runs.length);
    for (const [index, run] of demo.runs.entries()) {
      const part = runs[index] ?? '';
      const result = assessment.runs.runs.find((each) => each.run === run.id);
      if (result === undefined) throw new Error(run.id);
      expect(part).toMatch(new RegExp(`^ id="run-${run.id}"`));
      expect(
        [...part.matchAll(/class="d" role="img" aria-label="Run [^"]+" width="(\d+)"/g)].map(
          ([, width]) => width,
        ),
      ).toEqual(['680', '350']);
      const text = textOf(part);
      for (const { result: plateau } of result.plateaus) {
        if (plateau.ok) expect(text).toContain(`${formatEstimate(plateau.value.rise_K, '').trim()} `);
      }
      for (const flag of result.flags) expect(text).toContain(`${flag.title} ${flag.detail} ${flag.effect}`);
      for (const { reason, count } of result.report.unread)
        expect(text).toContain(`${count} rows, ${reason}`);
      expect(text).toContain(run.log.sha256);
      expect(text).toContain(result.report.conclusions.join(' ').replace(/\s+/g, ' '));
      expect(text).toContain(
        result.counted ? 'counted' : (run.setAside ?? result.whyNot ?? '').replace(/\.$/, ''),
      );
    }
  });

  test('gives each correction', () => {
    const probes = partOf(html, 'probes');
    for (const { gain, offset_K } of assessment.probes.corrections) {
      expect(probes).toContain(`${offset_K > 0 ? '+' : ''}${formatNumber(offset_K, 2)}`);
      expect(probes).toContain(formatNumber(gain, 4));
    }
  });

  test('lists every layer of every set-up', () => {
    const text = partOf(html, 'setups');
    for (const { layers } of demo.setups)
      for (const { name, material, thickness_mm } of layers)
        expect(text).toContain(
          `${name} ${material} ${thickness_mm} `.replace(
            / paper/,
            ' 5 strips, each 4 mm wide, evenly spaced paper',
          ),
        );
  });

  test('asks the reader’s machine for nothing: no script, no address that is fetched, a policy that forbids both', () => {
    expect(html).not.toMatch(/<script|<link|<img|<iframe|<object|@import|url\(|\sstyle="|\son[a-z]+="/i);
    expect(html.replaceAll('xmlns="http://www.w3.org/2000/svg"', '')).not.toMatch(/https?:/);
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'"`);
  });

  test('foots every page of paper with the name and that it is invented', () => {
    expect(html).toContain('@bottom-left{content:"Reedling\\20 R2\\2c \\20 invented\\20 example');
    expect(html).toContain('counter(pages)');
  });
});

describe('names that a person typed', () => {
  const nasty = `</style><script>alert('1')</script>"&`;

  test('stay text wherever a build carries them', { timeout: 60_000 }, () => {
    const named = <T extends { name: string }>(items: readonly T[]) =>
      items.map((item) => ({ ...item, name: `${nasty} ${item.name}`.slice(0, 120) }));
    const build = checkBuild(
      JSON.parse(
        JSON.stringify({
          ...demo,
          name: nasty,
          note: nasty,
          setups: named(demo.setups).map((setup) => ({ ...setup, note: nasty, layers: named(setup.layers) })),
          probes: named(demo.probes).map((probe) => ({ ...probe, note: nasty })),
          zones: named(demo.zones),
          limits: demo.limits.map((limit) => ({ ...limit, source: nasty })),
          runs: demo.runs.slice(0, 6).map((run) => ({
            ...run,
            name: nasty,
            mounting: nasty,
            session: nasty,
            conditions: { ...run.conditions, note: nasty },
            setAside: nasty,
            recipe: {
              ...run.recipe,
              channels: run.recipe.channels.map((channel) => ({ ...channel, header: nasty })),
            },
          })),
        }),
      ),
    );
    const html = renderDossier(build, assess(build), logOf);
    expect(html).not.toMatch(/<script/i);
    expect(html.match(/<\/style>/g)).toHaveLength(1);
    expect(html).not.toContain(nasty);
    expect(html).toContain('&lt;/style&gt;&lt;script&gt;alert(&#39;1&#39;)&lt;/script&gt;&quot;&amp;');
    expect(new Set(ids(html)).size).toBe(ids(html).length);
  });
});

describe('builds with gaps', { timeout: 60_000 }, () => {
  test('an empty build says what is missing, part by part', () => {
    const build = newBuild('new', 'New');
    const html = renderDossier(build, assess(build), logOf);
    expect(partOf(html, 'section')).toMatch(/no set-up is described/);
    expect(partOf(html, 'margins')).toMatch(/no design ambient is set/);
    expect(partOf(html, 'life')).toMatch(/Not bracketed/);
    expect(html.match(/undefined|NaN|Infinity|\[object/)).toBeNull();
    expect(/invented/i.test(textOf(html.replace(/<style>[\s\S]*<\/style>/, '')))).toBe(false);
  });

  test('without a device the section names what it takes; the rest stands', () => {
    const build: Build = { ...demo, device: undefined };
    const html = renderDossier(build, assess(build), logOf);
    expect(partOf(html, 'section')).toMatch(/can be drawn\. Missing: the device/);
    expect(html.split('<section class="run"')).toHaveLength(demo.runs.length + 1);
  });

  test('a log that is gone or cannot be read is told with the reason, its checksum and its recipe', () => {
    const [gone, broken] = [demo.runs[0], demo.runs[1]];
    if (gone === undefined || broken === undefined) throw new Error('The demo has no runs.');
    const some = (file: string) =>
      file === gone.log.file
        ? undefined
        : file === broken.log.file
          ? new Uint8Array([0, 1, 2, 255])
          : logOf(file);
    // Without the memory of earlier runs: it goes by the recorded checksum and would not look at these bytes.
    const assessment = assessBuild(demo, some);
    const html = renderDossier(demo, assessment, some);
    expect(assessment.runs.unreadable.map(({ run }) => run)).toEqual([gone.id, broken.id]);
    for (const { run, reason } of assessment.runs.unreadable) {
      const text = textOf(
        html.split('<section class="run"').find((each) => each.startsWith(` id="run-${run}"`)) ?? '',
      );
      expect(text).toContain(`This log cannot be read. ${reason.replace(/\s+/g, ' ')}`);
      expect(text).toContain(demo.runs.find(({ id }) => id === run)?.log.sha256);
      expect(text).toMatch(/Recipe it was to be read by Text is /);
    }
  });

  test('an assessed run whose log is not at hand any more keeps its numbers and loses only its chart', () => {
    const assessment = assess(demo);
    const html = renderDossier(demo, assessment, () => undefined);
    expect(html.match(/No chart: the log/g)).toHaveLength(demo.runs.length);
    expect(partOf(html, 'runs')).toContain('ambient drift');
  });
});

describe('the cost of the heat', { timeout: 60_000 }, () => {
  const { dutyYear: _, ...rest } = demo;
  const ofChemistry = (chemistry: string): Build => ({
    ...rest,
    newPack: { ...(demo.newPack as NonNullable<Build['newPack']>), chemistry },
  });

  test('in years where the cathode is known: bands, what-ifs, models with their sources, cautions', () => {
    const build = ofChemistry('LCO');
    const html = renderDossier(build, assess(build), logOf);
    const text = partOf(html, 'life');
    expect(text).toMatch(/lasts longest in .* Models differ/);
    expect(text).toMatch(/What if, in plate/);
    expect(text).toMatch(/A pack that has swollen, .* is used no more/);
    expect(html).toContain('aria-label="Capacity over the years.');
    expect(html).toContain('href="#ref-LAM-24"');
    expect(html).not.toMatch(/\bsafe(ly|ty)?\b/i);
  });

  test('as a bracket where it is not, with what would give years', () => {
    const build = ofChemistry('lithium-ion pouch');
    const bracketed = assess(build);
    const life = partOf(renderDossier(build, bracketed, logOf), 'life');
    for (const { byModel, factor } of bracketed.life?.rows.slice(1) ?? []) {
      expect(life).toContain(`${formatNumber(factor[0], 2)} to ${formatNumber(factor[1], 2)} ×`);
      for (const { factor: single } of byModel) expect(life).toContain(`${formatNumber(single, 2)} ×`);
    }
    expect(life).toMatch(/no years are given/);
    expect(life).not.toMatch(/\d years/);
    expect(life).toMatch(/by heat alone and over the published models/);
    expect(life).toMatch(/"lithium-ion pouch" names no cathode/);
  });
});
