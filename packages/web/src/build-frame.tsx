import type { Build } from '@soakbench/core/records';
import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { Bench, BenchContext } from './api/bench.js';
import { BuildPage } from './build/build-page.js';
import { ComparePage } from './compare/compare-page.js';
import { DossierPage } from './dossier/dossier-page.js';
import { HeatPage } from './heat/heat-page.js';
import { heatStates } from './heat/stage-words.js';
import { LifePage } from './life/life-page.js';
import { lifeStates } from './life/life-states.js';
import { useLife } from './life/use-life.js';
import { type DroppedFile, DropZone } from './parts/drop-zone.js';
import { FailedFace, LoadingFace } from './parts/faces.js';
import { Foot } from './parts/foot.js';
import { Head } from './parts/head.js';
import { NoticeBar } from './parts/notices.js';
import type { Edit, PageProps } from './parts/page.js';
import { PlainFrame } from './parts/plain-frame.js';
import { StageLine } from './parts/stage-line.js';
import { ProbesPage } from './probes/probes-page.js';
import { buildsHref, type PageName, skipHref } from './router.js';
import { ImportDialog } from './runs/import-dialog.js';
import { RunsPage } from './runs/runs-page.js';
import { VerdictPage } from './verdict/verdict-page.js';

interface BuildFrameProps {
  readonly id: string;
  readonly page: PageName;
  readonly run: string | undefined;
}

/** Everything that stays while one goes through the pages of a build: head, stage line, drop zone, notices. */
export function BuildFrame({ id, page, run }: BuildFrameProps) {
  const bench = useOpenBench(id);
  const build = bench?.open.build.value ?? null;
  if (!bench || build === null) {
    const faults = bench?.open.faults.value ?? [];
    return (
      <PlainFrame heading="Build">
        {faults.length > 0 ? (
          <>
            <FailedFace
              title="This build could not be opened."
              faults={faults}
              onRetry={() => bench?.open.load()}
            />
            <p class="btns">
              <a class="btn" href={buildsHref}>
                All builds
              </a>
            </p>
          </>
        ) : (
          <LoadingFace what="Opening the build" />
        )}
      </PlainFrame>
    );
  }
  return (
    <BenchContext.Provider value={bench}>
      <Bound bench={bench} build={build} page={page} run={run} />
    </BenchContext.Provider>
  );
}

function useOpenBench(id: string): Bench | null {
  const [bench, setBench] = useState<Bench | null>(null);
  useEffect(() => {
    const opened = new Bench(id);
    setBench(opened);
    void opened.open.load();
    const warn = (event: BeforeUnloadEvent) => {
      // Leaving the field keeps what is being typed; only then is it known whether something is pending.
      if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
      if (opened.open.unkept) event.preventDefault();
    };
    const online = () => void opened.open.settle();
    addEventListener('beforeunload', warn);
    addEventListener('online', online);
    return () => {
      removeEventListener('beforeunload', warn);
      removeEventListener('online', online);
      opened.close();
    };
  }, [id]);
  return bench;
}

interface BoundProps {
  readonly bench: Bench;
  readonly build: Build;
  readonly page: PageName;
  readonly run: string | undefined;
}

function Bound({ bench, build, page, run }: BoundProps) {
  const { open, assessor } = bench;
  const assessment = assessor.assessment.value;
  const life = useLife(build, assessment);
  const [dropped, setDropped] = useState<readonly DroppedFile[]>([]);
  const edit: Edit = useCallback((what, change) => open.edit(what, change), [open]);
  const addDropped = useCallback(
    (files: readonly DroppedFile[]) => setDropped((before) => [...before, ...files]),
    [],
  );
  const heading = useHeading(build.name, page, run);
  const [file] = dropped;

  return (
    <DropZone onFiles={addDropped}>
      <a class="skip" href={skipHref}>
        Skip to the answer
      </a>
      <div class="page">
        <header>
          <Head open={open} build={build} page={page} busy={assessor.busy.value} />
          <StageLine
            build={build.id}
            page={page}
            assessment={assessment}
            more={new Map([...heatStates(build.id), ...lifeStates(life)])}
          />
        </header>
        <main id="main" tabIndex={-1}>
          <h1 class="vh" tabIndex={-1} ref={heading}>
            {build.name}: {pageTitle(page, run)}
          </h1>
          {assessor.faults.value.length > 0 && (
            <FailedFace
              title="What follows from this build could not be computed."
              faults={assessor.faults.value}
              onRetry={() => assessor.follow(build)}
            />
          )}
          <Page page={page} run={run} build={build} assessment={assessment} edit={edit} />
        </main>
        <NoticeBar notice={open.notice.value} onDismiss={() => open.dismiss()} />
        <Foot invented={build.invented === true} />
      </div>
      {file && (
        <ImportDialog
          key={`${file.file} ${dropped.length}`}
          file={file.file}
          head={file.head}
          blob={file.blob}
          build={build}
          edit={edit}
          onClose={() => setDropped((files) => files.slice(1))}
        />
      )}
    </DropZone>
  );
}

function Page({
  page,
  run,
  ...props
}: PageProps & { readonly page: PageName; readonly run: string | undefined }) {
  if (page === 'verdict') return <VerdictPage {...props} />;
  if (page === 'probes') return <ProbesPage {...props} />;
  if (page === 'runs') return <RunsPage {...props} run={run} />;
  if (page === 'compare') return <ComparePage {...props} />;
  if (page === 'heat') return <HeatPage {...props} />;
  if (page === 'life') return <LifePage {...props} />;
  if (page === 'dossier') return <DossierPage {...props} />;
  return <BuildPage {...props} />;
}

function pageTitle(page: PageName, run: string | undefined): string {
  if (page === 'build') return 'device, pack, set-ups, limits';
  return run === undefined ? page : `${page}, ${run}`;
}

/** Names the tab after the page; going to another page puts the reading position at its heading, as a new document would. */
function useHeading(name: string, page: PageName, run: string | undefined) {
  const heading = useRef<HTMLHeadingElement>(null);
  const before = useRef<string | null>(null);
  useEffect(() => {
    document.title = `${pageTitle(page, run)} · ${name} · Soakbench`;
  }, [name, page, run]);
  useEffect(() => {
    const place = `${page}/${run ?? ''}`;
    if (before.current !== null && before.current !== place) {
      scrollTo({ top: 0, behavior: 'instant' });
      heading.current?.focus({ preventScroll: true });
    }
    before.current = place;
  }, [page, run]);
  return heading;
}
