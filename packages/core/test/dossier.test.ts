import { describe, expect, test } from 'vitest';
import { makeBuild } from '../../../examples/generator/scenario.mjs';
import { renderDossier } from '../src/dossier/index.js';
import { formatEstimate, plainText } from '../src/measure/index.js';
import { type Build, checkBuild, newBuild } from '../src/records/index.js';
import { assessBuild } from '../src/verdict/index.js';

const made = makeBuild({ seed: 43 }) as { build: unknown; logs: Map<string, Uint8Array> };
const demo = checkBuild(JSON.parse(JSON.stringify(made.build)));
const logOf = (file: string) => made.logs.get(file);
const render = (build: Build, logs = logOf) => renderDossier(build, assessBuild(build, logs), logs);

const voidTags = new Set(['meta', 'br', 'hr', 'img', 'link', 'input', 'col', 'wbr']);

/** Tags that are not closed in the order they were opened. */
function unbalanced(html: string): string[] {
  const faults: string[] = [];
  const open: string[] = [];
  const inside = html.replace(/<style>[\s\S]*?<\/style>/g, '').replace(/<!doctype[^>]*>/i, '');
  for (const [whole, closing, tag, , selfClosed] of inside.matchAll(
    /<(\/?)([a-zA-Z][\w-]*)((?:"[^"]*"|[^">])*?)(\/?)>/g,
  )) {
    if (tag === undefined || voidTags.has(tag) || selfClosed === '/') continue;
    if (closing === '') open.push(tag);
    else if (open.pop() !== tag) faults.push(whole);
  }
  return [...faults, ...open];
}

/** What a reader sees. */
function textOf(html: string): string {
  return html
    .replace(/<style>[\s\S]*?<\/style>/g, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/&#39;/g, "'")
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, '&')
    .replace(/\s+/g, ' ');
}

describe('the dossier of the demo', () => {
  const html = render(demo);
  const text = textOf(html);

  test('is one well-formed file that needs no other', () => {
    expect(unbalanced(html)).toEqual([]);
    expect(html).not.toMatch(/<script|<link|<img|<iframe|@import|url\(\s*['"]?https?:/i);
    expect(
      [...html.matchAll(/(?:src|href)="([^"]*)"/g)]
        .map(([, target]) => target)
        .filter((t) => !t?.startsWith('#')),
    ).toEqual([]);
  });

  test('has every id once, and every link leads to one', () => {
    const ids = [...html.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const [, target] of html.matchAll(/href="#([^"]+)"/g)) expect(ids).toContain(target);
  });

  test('says that it is invented, gives the answer, and every run with its log and checksum', () => {
    const assessment = assessBuild(demo, logOf);
    expect(text).toMatch(/invented/i);
    const flat = (words: string) => words.replace(/\s+/g, ' ');
    for (const part of assessment.verdict.answer) {
      expect(text).toContain(flat(typeof part === 'string' ? part : part.figure).trim());
    }
    expect(plainText(assessment.verdict.answer).length).toBeGreaterThan(40);
    for (const run of demo.runs) {
      expect(text).toContain(run.log.file);
      expect(html.replace(/<wbr>|\s/g, '')).toContain(run.log.sha256);
    }
    for (const { cooler_K } of assessment.compare.main?.pairs ?? [])
      expect(text).toContain(formatEstimate(cooler_K, 'K'));
  });

  test('names limits with their sources, carries the cautions, and never says the word that no measurement can carry', () => {
    for (const { source } of demo.limits) expect(text).toContain(source);
    expect(text).toMatch(/Lithium packs/i);
    expect(text).toMatch(/local codes/i);
    expect(text).toMatch(/licensed/i);
    expect(text.toLowerCase()).not.toMatch(/\bsafe\b/);
  });
});

describe('dossiers of thinner builds', () => {
  test('what a person typed stays text', () => {
    const html = render({ ...demo, name: '<script>alert("1")</script> & Söhne', note: '"><b>bold' });
    expect(html).not.toContain('<script>');
    expect(html).not.toContain('"><b>bold');
    expect(html).toContain('&lt;script&gt;');
    expect(unbalanced(html)).toEqual([]);
  });

  test('an empty build, one without a device and one without its logs are still written', () => {
    expect(unbalanced(render(newBuild('x', 'X')))).toEqual([]);
    const { device: _, ...rest } = demo;
    expect(unbalanced(render(rest as Build))).toEqual([]);
    const without = render(demo, () => undefined);
    expect(unbalanced(without)).toEqual([]);
    expect(without).toMatch(/missing/);
  });
});
