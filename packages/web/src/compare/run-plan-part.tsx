import {
  dropRunPlan,
  type FollowedRun,
  followRunPlan,
  plannedStateWords,
  resolutionWords,
  usualRun_s,
} from '@soakbench/core/compare';
import { formatCount, formatElapsed, formatKelvin } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { useState } from 'preact/hooks';
import { NumberField } from '../parts/fields.js';
import { setupName } from '../parts/names.js';
import type { Edit } from '../parts/page.js';
import { beginPlannedRun, drawPlanFor } from './change-run-plan.js';

interface RunPlanProps {
  readonly build: Build;
  readonly assessment: Assessment;
  readonly edit: Edit;
}

/** What to run next, in an order drawn by lot: drawn here, printed, and ticked off as the logs come in. */
export function RunPlanPart({ build, assessment, edit }: RunPlanProps) {
  const followed = followRunPlan(build, usualRun_s(assessment.runs.runs));
  return (
    <div class="sheet run-plan">
      <section>
        <h2>Run plan</h2>
        {followed.length === 0 ? (
          <DrawForm build={build} assessment={assessment} edit={edit} />
        ) : (
          <Followed build={build} followed={followed} edit={edit} />
        )}
      </section>
      <aside class="margin" aria-label="What the next run would buy">
        <Advice assessment={assessment} />
        <section>
          <h3>Before every run</h3>
          <p>
            Device off and unplugged, pack out and in again, shell closed. Same probes in the same places,
            same load. Stay with it: a pack that swells, smells or heats by itself ends the session.
          </p>
        </section>
      </aside>
    </div>
  );
}

/** Stop, or which run next: from the verdict, so that both pages say the same. */
function Advice({ assessment }: { readonly assessment: Assessment }) {
  const next = assessment.verdict.next.find(({ stage }) => stage === 'runs');
  const canShow_K = assessment.compare.main?.canShow_K ?? null;
  return (
    <section>
      <h3>{next ? 'What the next run would buy' : 'No further run asked for'}</h3>
      {next ? (
        <p>
          {next.title}. {next.detail}
        </p>
      ) : (
        <p>
          Nothing that these set-ups leave open would be settled by a few more runs
          {canShow_K === null ? '' : `; differences under ${formatKelvin(canShow_K)} stay unseen`}.
        </p>
      )}
    </section>
  );
}

function DrawForm({ build, assessment, edit }: RunPlanProps) {
  const { resolution } = assessment.compare;
  const [needs, setNeeds] = useState<Readonly<Record<string, number>>>({});
  const [perSession, setPerSession] = useState(3);
  const [asked, setAsked] = useState(false);
  const total = Object.values(needs).reduce((sum, runs) => sum + runs, 0);
  return (
    <>
      <p class="lead">
        How many more runs of each set-up? The order is drawn by lot within each session, so that a warming
        room or a practised hand favours none.
      </p>
      {resolution && resolution.total > 0 && (
        <p>
          {resolutionWords(resolution, resolution.difference_K, (id) => setupName(build, id))}{' '}
          <button type="button" class="quiet" onClick={() => setNeeds(resolution.add)}>
            Take these numbers
          </button>
        </p>
      )}
      <div class="fields">
        {build.setups.map(({ id, name }) => (
          <NumberField
            key={id}
            label={name}
            value={needs[id]}
            min={0}
            max={60}
            whole
            onValue={(runs) => setNeeds({ ...needs, [id]: runs ?? 0 })}
          />
        ))}
        <NumberField
          label="Runs in a session"
          value={perSession}
          min={1}
          max={20}
          whole
          required
          onValue={(runs) => setPerSession(runs ?? perSession)}
        />
      </div>
      <p class="btns">
        <button
          type="button"
          class="btn"
          onClick={() => {
            if (total === 0) return setAsked(true);
            const [seed = 1] = crypto.getRandomValues(new Uint32Array(1));
            const at = new Date().toISOString();
            edit('Draw a run plan', (old) => drawPlanFor(old, { needs, perSession, seed, at }));
          }}
        >
          Draw the order
        </button>
        {asked && total === 0 && <span role="status">Say first how many runs to make.</span>}
      </p>
    </>
  );
}

function Followed({
  build,
  followed,
  edit,
}: Pick<RunPlanProps, 'build' | 'edit'> & { readonly followed: readonly FollowedRun[] }) {
  const left = followed.filter(({ state }) => state !== 'done').length;
  const sessions = [...new Set(followed.map(({ session }) => session))];
  return (
    <>
      <p class="lead">
        {formatCount(followed.length, 'run')} in {formatCount(sessions.length, 'session')},{' '}
        {left === 0 ? 'all made' : `${left} still to make`}. Import a log of the set-up, and its line ticks
        itself off.
      </p>
      {sessions.map((session) => (
        <section key={session} class="plan-session">
          <h3>{sessionTitle(session)}</h3>
          <ol class="plan-runs">
            {followed
              .filter((run) => run.session === session)
              .map((run) => (
                <li
                  key={run.index}
                  class={run.state === 'next' || run.state === 'under-way' ? 'pick' : undefined}
                >
                  <span class="due">+{formatElapsed(run.after_s)} h</span>
                  <b>{setupName(build, run.setup)}</b>
                  <span class={run.state === 'done' ? 'state holds' : 'state'}>
                    {plannedStateWords[run.state]}
                    {run.run && `, ${build.runs.find(({ id }) => id === run.run)?.name ?? run.run}`}
                    {run.state === 'under-way' && run.startedAt && ` since ${localTime(run.startedAt)}`}
                  </span>
                  {run.state === 'next' && (
                    <button
                      type="button"
                      class="btn"
                      onClick={() => {
                        const at = new Date().toISOString();
                        edit(`Begin ${setupName(build, run.setup)}`, (old) =>
                          beginPlannedRun(old, run.index, at),
                        );
                      }}
                    >
                      Begin
                    </button>
                  )}
                </li>
              ))}
          </ol>
        </section>
      ))}
      <p class="btns">
        <button type="button" class="btn" onClick={() => printPlan()}>
          Print the plan
        </button>
        <button type="button" class="quiet" onClick={() => edit('Drop the run plan', dropRunPlan)}>
          Drop it and draw anew
        </button>
      </p>
    </>
  );
}

/** A session that was drawn is called "planned 2" until its day is known. */
function sessionTitle(session: string): string {
  const number = /^planned (\d+)$/.exec(session)?.[1];
  return number === undefined ? `Session ${session}` : `Session ${number}, planned`;
}

function localTime(at: string): string {
  return new Date(at).toLocaleTimeString([], { hour: '2-digit', minute: '2-digit' });
}

/** Paper shows the plan alone; the mark on the page is what the print sheet goes by. */
function printPlan(): void {
  document.body.dataset['print'] = 'run-plan';
  addEventListener('afterprint', () => delete document.body.dataset['print'], { once: true });
  print();
}
