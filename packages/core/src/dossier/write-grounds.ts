import { formatNumber } from '../measure/index.js';
import type { NextStep } from '../verdict/index.js';
import type { DossierInput } from './dossier-input.js';
import { html, type Markup } from './markup.js';
import { writeList } from './parts.js';

/** What the verdict rests on, what is open, what is missing and what to measure next; then how its figures came about. */
export function writeGrounds({ assessment }: DossierInput): Markup {
  const { restsOn, unresolved, missing, next, answer } = assessment.verdict;
  const figures = answer.flatMap((part) =>
    typeof part === 'string' || part.why === undefined ? [] : [html`<b>${part.figure}</b> ${part.why}`],
  );
  return html`<div class="cols">
<section><h3>What it rests on</h3>${writeList(restsOn, 'Nothing counted yet.')}</section>
<section><h3>What is unresolved</h3>${writeList(unresolved, 'Nothing that these measurements leave open.')}</section>
<section><h3>Missing, not guessed</h3>${writeList(missing, 'Nothing that this version can tell.')}</section>
<section class="next"><h3>Next at the bench</h3>${writeList(next.map(stepWords), 'Nothing that would change the verdict.')}</section>
</div>
${figures.length > 0 && html`<h3>How the figures of the answer came about</h3>${writeList(figures)}`}`;
}

function stepWords({ title, detail, takes_h }: NextStep): Markup {
  const takes = takes_h === null ? '' : ` About ${formatNumber(takes_h, takes_h < 10 ? 1 : 0)} h.`;
  return html`<b>${title}.</b> ${detail}${takes}`;
}
