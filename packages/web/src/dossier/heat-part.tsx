import { hasHeatData } from '@soakbench/core/heat';
import type { Fault } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { type Assessment, everyContest } from '@soakbench/core/verdict';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { faultsOf } from '../api/faults.js';
import { FaultList } from '../parts/faces.js';
import { pageHref } from '../router.js';
import { askForHeat, heatDossierAddress } from './ask-heat.js';

type Face =
  | { readonly face: 'none' }
  | { readonly face: 'computing'; readonly share: number; readonly doing: string }
  | { readonly face: 'failed'; readonly faults: readonly Fault[] }
  | { readonly face: 'ready' };

interface HeatPartProps {
  readonly build: Build;
  readonly assessment: Assessment;
}

/** The heat model in the dossier: offered, computed by the server with a bar that says how far it is, and called off by a button. */
export function HeatPart({ build, assessment }: HeatPartProps) {
  const [face, setFace] = useState<Face>({ face: 'none' });
  const asking = useRef<AbortController | null>(null);
  const stop = () => {
    asking.current?.abort();
    asking.current = null;
    setFace({ face: 'none' });
  };
  // What was computed holds for the build as it was; and who leaves the page calls the work off.
  useEffect(() => stop, [build]);
  const { compare, probes } = assessment;
  const has = useMemo(
    () => hasHeatData(build, everyContest(compare), probes.corrections),
    [build, compare, probes],
  );
  const start = () => {
    const mine = new AbortController();
    asking.current = mine;
    setFace({ face: 'computing', share: 0, doing: 'starting' });
    askForHeat(build.id, mine.signal, (share, doing) => {
      if (asking.current === mine) setFace({ face: 'computing', share, doing });
    }).then(
      () => asking.current === mine && setFace({ face: 'ready' }),
      (error) => asking.current === mine && setFace({ face: 'failed', faults: faultsOf(error) }),
    );
  };
  return (
    <section class="heatpart" aria-label="With the heat model">
      <h2>With the heat model</h2>
      {!has ? (
        <p>
          There are no settled rises to hold a model to yet.{' '}
          <a href={pageHref(build.id, 'heat')}>What it needs</a>
        </p>
      ) : (
        <p>
          Its field as pictures, what it predicts for set-ups nobody has soaked, how far off it is, and what
          was fitted. {face.face === 'ready' ? '' : 'Computing it takes some ten seconds.'}
        </p>
      )}
      {face.face === 'computing' && (
        <p class="calibrating">
          <progress value={face.share} max={1} aria-label="Computing the heat model" />{' '}
          <span class="small" role="status">
            {face.doing}
          </span>
        </p>
      )}
      {face.face === 'failed' && <FaultList faults={face.faults} />}
      {has && (
        <p class="btns">
          {face.face === 'computing' && (
            <button type="button" class="btn" onClick={stop}>
              Stop
            </button>
          )}
          {(face.face === 'none' || face.face === 'failed') && (
            <button type="button" class="btn" onClick={start}>
              Compute the heat model
            </button>
          )}
          {face.face === 'ready' && (
            <>
              <a class="btn main" href={heatDossierAddress(build.id)} target="_blank" rel="noopener">
                Open dossier with heat model<span class="vh"> in a new tab</span>
              </a>
              <a class="btn" href={heatDossierAddress(build.id)} download={`${build.id}-dossier-heat.html`}>
                Download
              </a>
            </>
          )}
        </p>
      )}
    </section>
  );
}
