import {
  type Contest,
  chanceOfCoolestWords,
  compareUnequal,
  planResolution,
  presentContest,
  rankSetups,
  resolutionWords,
  sessionWords,
} from '@soakbench/core/compare';
import { formatKelvin, formatNumber } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { useMemo, useState } from 'preact/hooks';
import { Answer, Condition } from '../parts/answer.js';
import { LoadingFace } from '../parts/faces.js';
import { ChoiceField } from '../parts/fields.js';
import { IntervalsView } from '../parts/intervals.js';
import { setupName } from '../parts/names.js';
import { NextStepNote } from '../parts/next-step.js';
import type { PageProps } from '../parts/page.js';
import { DataTable, TableFold } from '../parts/table.js';
import { pageHref } from '../router.js';
import { MarginsTable } from './margins-table.js';
import { NothingToCompare } from './nothing-to-compare.js';
import {
  differenceColumns,
  differenceRows,
  findingsWords,
  marginGroups,
  noWorseRows,
  perWattRows,
  quantityKey,
  quantityWords,
  riseRows,
  spreadWords,
  unequalRows,
} from './present-compare.js';
import { RunPlanPart } from './run-plan-part.js';
import { SetupsSideBySide } from './setups-side-by-side.js';

/** Is the better one really better? Rises, differences, the set-ups side by side, and margins by state. */
export function ComparePage({ build, assessment, edit }: PageProps) {
  if (assessment === null) return <LoadingFace what="Comparing the set-ups …" />;
  const { main } = assessment.compare;
  const plan = build.setups.length > 0 && <RunPlanPart build={build} assessment={assessment} edit={edit} />;
  if (main === null) {
    return (
      <>
        <NothingToCompare build={build} assessment={assessment} />
        {plan}
      </>
    );
  }
  return (
    <>
      <Answer sentence={assessment.compare.answer} />
      <Condition>{assessment.compare.condition}</Condition>
      <Contests build={build} assessment={assessment} main={main} />
      <SetupsSideBySide build={build} assessment={assessment} />
      <Margins build={build} assessment={assessment} />
      {plan}
    </>
  );
}

interface PartProps {
  readonly build: Build;
  readonly assessment: Assessment;
}

/** What shields are compared for: the difference that the runs needed are told for. */
const resolve_K = 1;

function Contests({ build, assessment, main }: PartProps & { readonly main: Contest }) {
  const contests = [main, ...assessment.compare.others];
  const [chosenKey, choose] = useState(quantityKey(main.quantity));
  const contest = contests.find(({ quantity }) => quantityKey(quantity) === chosenKey) ?? main;
  const pick = assessment.verdict.setup;
  const view = useMemo(() => presentContest(build, contest, pick), [build, contest, pick]);
  const { perWatt } = assessment.compare;
  const ranks = useMemo(() => rankSetups(contest), [contest]);
  const resolution = useMemo(
    () => (contest.setups.length > 1 ? planResolution(contest, resolve_K) : null),
    [contest],
  );
  const unequal = useMemo(() => compareUnequal(contest), [contest]);
  const sessions = sessionWords(contest);
  const next = assessment.verdict.next.find(({ stage }) => stage === 'compare' || stage === 'runs');
  const baseline = setupName(build, contest.baseline);
  const manySetups = contest.setups.length > 2;

  return (
    <div class="sheet">
      <figure>
        <h2>Rise above the room at {quantityWords(build, contest.quantity)}</h2>
        <p class="lead">
          Dot and strokes: mean, ± one standard uncertainty, 95 % interval. Ticks beneath: single runs.
        </p>
        <IntervalsView view={view.rises} />
        <TableFold>
          <DataTable
            caption="Rise above the room by set-up"
            columns={[
              { title: 'set-up' },
              { title: 'mean rise', right: true },
              { title: '95 %, K', right: true },
              { title: 'chance to be the coolest', right: true },
              { title: 'runs, K', right: true },
            ]}
            rows={riseRows(build, contest, pick, ranks)}
          />
        </TableFold>
        {contest === main && perWatt !== null && (
          <TableFold title={`Per watt, and at ${formatNumber(perWatt.load_W, 1)} W`}>
            <DataTable
              caption={`Rise per watt, and differences to ${baseline} with every run brought to ${formatNumber(perWatt.load_W, 1)} W`}
              columns={[
                { title: 'set-up' },
                { title: 'rise', right: true },
                { title: 'cooler by', right: true },
                { title: 'finding' },
              ]}
              rows={perWattRows(build, perWatt)}
            />
          </TableFold>
        )}
      </figure>
      <aside class="margin" aria-label="What is compared">
        {contests.length > 1 && (
          <section>
            <ChoiceField
              label="Compared at"
              value={quantityKey(contest.quantity)}
              options={contests.map(({ quantity }) => [
                quantityKey(quantity),
                quantityWords(build, quantity),
              ])}
              onValue={(key) => choose(key ?? quantityKey(main.quantity))}
            />
            {contest !== main && (
              <p>The answer above speaks of {quantityWords(build, main.quantity)}, where the limits bite.</p>
            )}
          </section>
        )}
        {contest.canShow_K !== null && (
          <section>
            <h3>Smallest difference that could be told apart</h3>
            <p>
              <b>{formatKelvin(contest.canShow_K, contest.canShow_K / 10)}</b> with these runs. What is
              smaller may be there and does not show.
            </p>
          </section>
        )}
        <section>
          <h3>{contest.runToRun.assumed ? 'Spread assumed' : 'Spread found'}</h3>
          <p>{spreadWords(contest)}</p>
          {sessions !== null && <p>{sessions}</p>}
        </section>
        {ranks[0] !== undefined && (
          <section>
            <h3>Likeliest to be the coolest</h3>
            <p>
              <b>{setupName(build, ranks[0].setup)}</b>, with a chance of {chanceOfCoolestWords(ranks[0])}. By
              how much is another question.
            </p>
          </section>
        )}
        {contest.notes.length > 0 && (
          <section>
            <h3>To bear in mind</h3>
            <ul>
              {contest.notes.map((note) => (
                <li key={note}>{note}</li>
              ))}
            </ul>
          </section>
        )}
      </aside>
      {contest.pairs.length > 0 && (
        <figure>
          <h2>Differences, pair by pair</h2>
          <p class="lead">
            {findingsWords(contest.pairs)} The thin strokes hold for all pairs at once, with 95 %.
          </p>
          <IntervalsView view={view.pairs} />
          <TableFold>
            <DataTable
              caption="Differences between all pairs"
              columns={differenceColumns}
              rows={differenceRows(build, contest.pairs)}
            />
          </TableFold>
          {contest.pairs.some(({ finding }) => finding !== 'no-verdict') && (
            <TableFold
              title={`No worse by more than ${formatKelvin(contest.noWorse_K, contest.noWorse_K / 10)}`}
            >
              <DataTable
                caption="Which set-up of each pair is shown to be no worse than the other"
                columns={[{ title: 'pair' }, { title: 'shown to be no worse' }]}
                rows={noWorseRows(build, contest.pairs)}
              />
            </TableFold>
          )}
          {unequal !== null && (
            <TableFold title="With each set-up’s own spread">
              <DataTable
                caption="Differences between all pairs, each set-up with its own spread, sessions left in"
                columns={differenceColumns}
                rows={unequalRows(build, unequal)}
              />
            </TableFold>
          )}
        </figure>
      )}
      <aside class="margin" aria-label="Next at the bench">
        {next && <NextStepNote step={next} build={build.id} />}
        {contest.setups.length > 1 && (
          <section>
            <h3>Runs to tell {resolve_K} K apart</h3>
            <p>{resolutionWords(resolution, resolve_K, (id) => setupName(build, id))}</p>
          </section>
        )}
      </aside>
      {manySetups && contest.toBaseline.length > 0 && (
        <figure>
          <h2>Against {baseline} only</h2>
          <p class="lead">
            {findingsWords(contest.toBaseline)} Fewer questions asked at once, so these intervals are
            narrower.
          </p>
          <IntervalsView view={view.toBaseline} />
          <TableFold>
            <DataTable
              caption={`Differences to ${baseline}`}
              columns={differenceColumns}
              rows={differenceRows(build, contest.toBaseline)}
            />
          </TableFold>
        </figure>
      )}
    </div>
  );
}

function Margins({ build, assessment }: PartProps) {
  const groups = marginGroups(build, assessment.compare.margins);
  const ambient_C = build.designAmbient?.ambient_C;
  if (ambient_C === undefined || groups.length === 0) {
    return (
      <section>
        <h2>Margins by state</h2>
        <p class="lead">
          No margin can be named yet: a design ambient, the warmest place the device is used or charged in, is
          needed with the limits. <a href={pageHref(build.id, 'build')}>Enter them with the build.</a>
        </p>
      </section>
    );
  }
  return (
    <section>
      <h2>Margins at {ambient_C} °C, by state</h2>
      <p class="lead">“At least” has 95 % coverage; the highest ambient keeps that coverage too.</p>
      <MarginsTable
        groups={groups.filter(({ isPreferred }) => !isPreferred)}
        pick={assessment.verdict.setup}
      />
      {groups.some(({ isPreferred }) => isPreferred) && (
        <TableFold title="Against the preferred level">
          <MarginsTable
            groups={groups.filter(({ isPreferred }) => isPreferred)}
            pick={assessment.verdict.setup}
            label="Temperatures against the preferred level"
          />
        </TableFold>
      )}
      <p class="small foot-note">
        Look: the limit holds, with less than 2 K left. ≥ and ≤: a bound only, because the heat of the charge
        itself was not measured in this state.
      </p>
    </section>
  );
}
