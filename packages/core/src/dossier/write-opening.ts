import { presentOutlook } from '../life/index.js';
import type { Sentence } from '../measure/index.js';
import type { StageState } from '../verdict/index.js';
import type { DossierInput, DossierSection } from './dossier-input.js';
import { asMarkup, html, type Markup } from './markup.js';
import { writeLevel } from './parts.js';

const mark = asMarkup(
  '<svg width="26" height="18" viewBox="0 0 26 18" aria-hidden="true"><path d="M1 2.5h24M1 15.5h24" stroke="var(--ink)" stroke-width="1.6"/><path d="M1 9h24" stroke="var(--accent)" stroke-width="3.2"/><path d="M6 5.2v1.6M13 4.4v2.4M20 5.2v1.6" stroke="var(--ink)" stroke-width="1.6"/></svg>',
);

/** The section that carries each stage's answer. */
const anchors: Readonly<Partial<Record<StageState['stage'], string>>> = {
  probes: 'probes',
  runs: 'runs',
  compare: 'compare',
  life: 'life',
  verdict: 'margins',
  dossier: 'grounds',
};

/** Whose dossier it is, and the state of each stage. */
export function writeHead({ build, assessment, forecast }: DossierInput): Markup {
  const invented = build.invented === true;
  const stages = assessment.stages.map((each) =>
    each.stage === 'life' && forecast.ok
      ? { ...each, level: 'look' as const, words: presentOutlook(forecast.value.forecast).short }
      : each,
  );
  return html`<header>
<div class="head"><span class="mark">${mark}Soakbench dossier</span>${invented && html`<span class="invented">invented example</span>`}</div>
${writeStages(stages)}
<h1>${build.name}</h1>
${invented && html`<p class="small">An invented example: the device, its packs, its limits and every reading are made up.</p>`}
</header>
`;
}

/** The decision in one sentence, under which conditions it holds, and the caution that belongs before everything else. */
export function writeAnswer({ assessment: { verdict } }: DossierInput): Markup {
  return html`<p class="answer">${writeSentence(verdict.answer)}</p>
<p class="cond">${verdict.condition}</p>
<p class="warn">Lithium packs can burn. Read the <a href="#cautions">cautions</a> before a shell is opened or a pack is touched.</p>
`;
}

function writeStages(stages: readonly StageState[]): Markup {
  // Verdict is the zero of the line. Stages this version does not carry out are left out: a reader could not act on them.
  const built = stages.filter((each) => each.built);
  const order = [
    ...built.filter((each) => each.stage === 'verdict'),
    ...built.filter((each) => each.stage !== 'verdict'),
  ];
  if (order.length === 0) return html``;
  return html`<nav aria-label="Stages"><ol class="stages">${order.map(
    ({ stage, level, words }) =>
      html`<li><a href="#${anchors[stage] ?? 'grounds'}"><span class="nm">${stage}</span><span class="state">${writeLevel(level, words)}</span></a></li>`,
  )}</ol></nav>`;
}

/** Figures in bold. How each came about stands with what the verdict rests on. */
export function writeSentence(sentence: Sentence): Markup {
  return html`${sentence.map((part) => (typeof part === 'string' ? part : html`<b>${part.figure}</b>`))}`;
}

/** @param first number of the first of these sections */
export function writeContents(sections: readonly DossierSection[], first: number): Markup {
  return html`<ol class="contents">${sections.map(({ id, title }, index) => html`<li><span class="no">${first + index}</span> <a href="#${id}">${title}</a></li>`)}</ol>`;
}
