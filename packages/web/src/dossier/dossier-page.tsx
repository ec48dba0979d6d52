import { formatCount, formatList, type Sentence } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { Answer, Condition } from '../parts/answer.js';
import { LoadingFace } from '../parts/faces.js';
import { LevelShape } from '../parts/level.js';
import { runName } from '../parts/names.js';
import type { PageProps } from '../parts/page.js';
import { HeatPart } from './heat-part.js';

/** Can others trust and repeat it? One file that holds everything, and what is still missing from it. */
export function DossierPage({ build, assessment }: PageProps) {
  if (assessment === null) return <LoadingFace what="Gathering what the dossier holds …" />;
  const address = `/api/builds/${encodeURIComponent(build.id)}/dossier`;
  const gaps = dossierGaps(build, assessment);
  return (
    <>
      <Answer sentence={dossierAnswer(gaps.length)} />
      <Condition>
        One HTML file that needs nothing else: no network, no scripts, no Soakbench. It prints on A4 and
        Letter, in grey too.
      </Condition>
      <p class="btns dossier">
        <a class="btn main" href={address} target="_blank" rel="noopener">
          Open dossier<span class="vh"> in a new tab</span>
        </a>
        <a class="btn" href={address} download={`${build.id}-dossier.html`}>
          Download
        </a>
      </p>
      <HeatPart build={build} assessment={assessment} />
      <div class="ask two">
        <section>
          <h2>What it contains</h2>
          <ul class="plainlist">
            {dossierContents(build, assessment).map((item) => (
              <li key={item}>{item}</li>
            ))}
          </ul>
        </section>
        <section>
          <h2>What is missing from it</h2>
          {gaps.length === 0 ? (
            <p>Nothing that this version can tell.</p>
          ) : (
            <ul class="plainlist">
              {gaps.map((gap) => (
                <li key={gap} class="lacking">
                  <LevelShape level="none" />
                  <span>{gap}</span>
                </li>
              ))}
            </ul>
          )}
          <p class="small foot-note">
            A gap is printed as a gap. The dossier is open to be read all the same.
          </p>
        </section>
      </div>
    </>
  );
}

function dossierAnswer(gaps: number): Sentence {
  if (gaps === 0)
    return ['The dossier is ', { figure: 'complete' }, ': whoever reads it can follow every number.'];
  return ['The dossier can be read, with ', { figure: formatCount(gaps, 'gap') }, ' that it names.'];
}

/** What is not there, each once: named by the verdict, by logs that cannot be read, by runs without a load. */
function dossierGaps(build: Build, { verdict, runs }: Assessment): string[] {
  const unreadable = runs.unreadable.map(({ run, reason }) => {
    const found = build.runs.find(({ id }) => id === run);
    return `${found ? runName(found) : run} cannot be read: ${reason}`;
  });
  return [...new Set([...verdict.missing, ...unreadable])];
}

function dossierContents(build: Build, { runs, compare, life }: Assessment): string[] {
  const counted = runs.runs.filter((run) => run.counted).length;
  return [
    'The verdict with its conditions, what it rests on and what would change it',
    build.device ? 'The section and the plan of the device, to scale' : '',
    build.probeChecks.length > 0
      ? `${formatCount(build.probeChecks.length, 'probe check')} with every reading`
      : '',
    build.runs.length > 0
      ? `${formatCount(build.runs.length, 'run')}, ${counted} counted, each with its chart, plateaus, flags and the recipe its log was read by`
      : '',
    compare.main === null ? '' : 'The comparison: rises, differences, what could be told apart at all',
    compare.margins.length > 0 ? 'Margins against every limit, with the highest ambient' : '',
    life === null
      ? ''
      : 'What the heat costs: years as a range where the cells’ chemistry is known, and the bracket, model by model',
    `Set-ups: ${build.setups.length === 0 ? 'none entered' : formatList(build.setups.map(({ name }) => name))}`,
    'Methods with their sources, and the cautions',
  ].filter((item) => item !== '');
}
