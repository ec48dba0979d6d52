import { describe, expect, test } from 'vitest';
import { makeBuild } from '../../../../examples/generator/scenario.mjs';
import type { HeatReport } from '../heat/index.js';
import { calibrateHeat, type HeatAssessment, presentHeat, TryBench, usualGrid } from '../heat/index.js';
import { checkBuild } from '../records/index.js';
import { assessBuild, everyContest } from '../verdict/index.js';
import { renderDossier } from './index.js';

const made = makeBuild() as { build: unknown; logs: Map<string, Uint8Array> };
const demo = checkBuild(JSON.parse(JSON.stringify(made.build)));
const logOf = (file: string) => made.logs.get(file);
const assessment = assessBuild(demo, logOf);
const contests = everyContest(assessment.compare);
/** How the page is written does not hang on how fine the grid was; this one takes a second. */
const grid = { cell_mm: 12, zoneCell_mm: 8, depth_mm: 5 };

function makeHeat(): HeatReport {
  const result = calibrateHeat(demo, contests, assessment.probes.corrections, { grid });
  if (!result.ok) throw new Error(result.reason.kind);
  const bench = new TryBench(demo, contests, assessment.probes.corrections, result.value.calibrated, grid);
  const setup = demo.setups.find(({ id }) => id === 'plate');
  if (setup === undefined) throw new Error('The demo has no plate.');
  const ambient_C = demo.designAmbient?.ambient_C ?? 0;
  const field = bench.show({
    setup,
    ambient_C,
    use: { charging: false, load_W: null },
    plane: 'pack',
    grid: usualGrid,
  });
  if (!field.ok) throw new Error(field.reason.kind);
  return { assessment: result.value.assessment, shown: [{ setup: 'plate', field: field.value }] };
}

const textOf = (html: string) =>
  html
    .replace(/<svg[\s\S]*?<\/svg>/g, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/&#39;/g, "'")
    .replace(/&lt;/g, '<')
    .replace(/\s+/g, ' ');
const partOf = (html: string, id: string) =>
  html.split('<section class="part"').find((each) => each.startsWith(` id="${id}"`)) ?? '';

describe('heat in the dossier', { timeout: 120_000 }, () => {
  const heat = makeHeat();
  const html = renderDossier(demo, assessment, logOf, heat);
  const part = partOf(html, 'heat');
  const text = textOf(part);
  const view = presentHeat(demo, heat.assessment);
  const spaced = (words: string) => words.replace(/\s+/g, ' ');

  test('is there when a model is passed in, and only then', () => {
    expect(partOf(renderDossier(demo, assessment, logOf), 'heat')).toBe('');
    expect(html.indexOf('id="probes"')).toBeLessThan(html.indexOf('id="heat"'));
    expect(html.indexOf('id="heat"')).toBeLessThan(html.indexOf('id="life"'));
  });

  test('gives every figure as presented, each marked as measured or predicted', () => {
    for (const { figures } of view.loaded.rows)
      for (const { mark, words } of figures.flat()) expect(text).toContain(`${spaced(words)} ${mark}`);
    expect(
      view.loaded.rows.some(({ figures }) => figures.flat().some(({ mark }) => mark === 'measured')),
    ).toBe(true);
    for (const { measured, predicted, off } of view.trust?.rows ?? [])
      expect(text).toContain(`${spaced(measured)} ${spaced(predicted)} ${spaced(off)}`);
    for (const { name, factor, learned } of view.fitted.rows) {
      expect(text).toContain(name);
      expect(text).toContain(`${factor} ${learned}`);
    }
    expect(text).toContain(spaced(view.trust?.sentence ?? 'missing'));
  });

  test('draws plan and section in both widths, with colours, lines and probes', () => {
    const drawings = [
      ...part.matchAll(/<svg class="d" role="img" aria-label="Predicted temperature [^"]+" width="(\d+)"/g),
    ];
    expect(drawings.map(([, width]) => width)).toEqual(['680', '350', '680', '350']);
    expect(part.match(/class="iso" d="M/g)).toHaveLength(4);
    expect(part).toMatch(/C1 \d\d\.\d/);
    expect(part).toMatch(/Z1 \d\d\.\d/);
  });

  test('stays under 150 kB, tables and all, on the finer grid', () => {
    expect(heat.shown[0]?.field.cells).toBeGreaterThan(50_000);
    expect(part.length).toBeLessThan(150_000);
  });

  test('asks the reader’s machine for nothing and promises nothing', () => {
    expect(part).not.toMatch(/<script|<canvas|<img|\sstyle="|\son[a-z]+="|https?:(?!\/\/www\.w3\.org)/i);
    expect(part).not.toMatch(/undefined|NaN|Infinity|\[object/);
    expect(text).not.toMatch(/\bsafe/i);
  });

  test('says plainly where nothing could be left out', () => {
    const alone: HeatAssessment = { ...heat.assessment, leaveOneOut: null };
    const words = textOf(
      partOf(renderDossier(demo, assessment, logOf, { ...heat, assessment: alone }), 'heat'),
    );
    expect(words).toContain('How far off it is nobody can tell yet');
    expect(words).toContain('Nothing tells yet');
  });
});
