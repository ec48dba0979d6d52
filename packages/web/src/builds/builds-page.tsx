import { formatCount } from '@soakbench/core/measure';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { BuildSummary } from '../api/build-api.js';
import { api } from '../api/client.js';
import { faultsOf } from '../api/faults.js';
import type { Notice } from '../api/open-build.js';
import { FailedFace, LoadingFace } from '../parts/faces.js';
import { LevelShape } from '../parts/level.js';
import { NoticeBar } from '../parts/notices.js';
import { PlainFrame } from '../parts/plain-frame.js';
import { goTo, pageHref } from '../router.js';
import { FirstSteps } from './first-steps.js';
import { NewBuildForm } from './new-build-form.js';
import { presentBuildRow } from './present-build-row.js';

type Face =
  | { readonly face: 'loading' }
  | { readonly face: 'failed'; readonly error: unknown }
  | { readonly face: 'ready'; readonly builds: readonly BuildSummary[] };

/** Every build on this bench, and the way to a new one. */
export function BuildsPage() {
  const [state, setState] = useState<Face>({ face: 'loading' });
  const [notice, setNotice] = useState<Notice | null>(null);
  const heading = useRef<HTMLHeadingElement>(null);

  const load = async () => {
    try {
      setState({ face: 'ready', builds: await api.builds() });
    } catch (error) {
      setState({ face: 'failed', error });
    }
  };
  useEffect(() => {
    document.title = 'Builds · Soakbench';
    void load();
  }, []);

  /** Does it, reads the list anew, and says what went wrong where something did. */
  const act = async (failure: string, work: () => Promise<unknown>, done: Notice | null) => {
    try {
      await work();
      setNotice(done);
    } catch (error) {
      setNotice({ title: failure, faults: faultsOf(error) });
    }
    await load();
    heading.current?.focus();
  };
  const remove = (row: BuildSummary) =>
    act(`${row.name} was not removed.`, () => api.removeBuild(row.id), {
      title: `${row.name} is removed.`,
      action: {
        verb: 'Undo',
        run: () => void act(`${row.name} was not brought back.`, () => api.restoreBuild(row.id), null),
      },
    });
  const add = async (name: string) => {
    try {
      goTo(pageHref((await api.addBuild(name)).build.id, 'build'));
    } catch (error) {
      setNotice({ title: 'The build was not made.', faults: faultsOf(error) });
    }
  };

  return (
    <PlainFrame heading="Builds">
      {state.face === 'loading' && <LoadingFace what="Reading the list of builds" />}
      {state.face === 'failed' && (
        <FailedFace title="The builds could not be read." faults={faultsOf(state.error)} onRetry={load} />
      )}
      {state.face === 'ready' && state.builds.length === 0 && <FirstSteps onAdd={add} />}
      {state.face === 'ready' && state.builds.length > 0 && (
        <>
          <p class="answer">
            <b>{formatCount(state.builds.length, 'build')}</b> on this bench.
          </p>
          <p class="cond">
            A build is one refit: a device, its old pack and its new one, and all that was measured about it.
          </p>
          <div class="sheet">
            <section>
              <h2 class="vh" tabIndex={-1} ref={heading}>
                All builds
              </h2>
              <BuildRows builds={state.builds} onRemove={remove} />
            </section>
            <aside class="margin">
              <section>
                <h3>New build</h3>
                <NewBuildForm onAdd={add} />
              </section>
            </aside>
          </div>
        </>
      )}
      <NoticeBar notice={notice} onDismiss={() => setNotice(null)} />
    </PlainFrame>
  );
}

interface BuildRowsProps {
  readonly builds: readonly BuildSummary[];
  readonly onRemove: (row: BuildSummary) => void;
}

function BuildRows({ builds, onRemove }: BuildRowsProps) {
  return (
    <ul class="builds">
      {builds.map((row) => {
        const { runs, changed } = presentBuildRow(row);
        return (
          <li key={row.id}>
            <span class="name">
              <a href={pageHref(row.id, 'verdict')}>{row.name}</a>
              {row.invented && <span class="invented">invented example</span>}
            </span>
            <span class="small">
              {!row.isReadable && <LevelShape level="stop" />} {runs}, changed {changed}
            </span>
            <button type="button" class="quiet" onClick={() => onRemove(row)}>
              Remove<span class="vh"> {row.name}</span>
            </button>
          </li>
        );
      })}
    </ul>
  );
}
