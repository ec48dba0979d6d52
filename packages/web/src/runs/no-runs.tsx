import { formatCount } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { EmptyFace } from '../parts/faces.js';
import type { Edit } from '../parts/page.js';
import { pageHref } from '../router.js';
import { ImportButton } from './import-button.js';

/** How a run is made: where the probes go, how long it takes, what to beware of. */
export function NoRuns({ build, edit }: { readonly build: Build; readonly edit: Edit }) {
  const hasProbes = build.probes.length > 0;
  return (
    <EmptyFace title="No run is logged yet.">
      <p>
        A run is one log of one set-up: idle, then full load, then off. It takes about three hours, most of
        them without you. The slow climb to the plateau is the measurement: stopped early, the plateau has to
        be guessed from the curve, and the guess is wider than the shields differ.
      </p>
      <ol class="steps">
        <li>
          <b>Place the probes.</b> One on each hot zone, one on the pack’s face under the hottest, one in the
          room’s air away from the device’s warmth.{' '}
          {hasProbes ? `${formatCount(build.probes.length, 'probe')} entered.` : ''}{' '}
          <a href={pageHref(build.id, 'build')}>Enter probes and set-ups</a>
        </li>
        <li>
          <b>Log at an even spacing</b>, ten seconds is plenty. An hour of idle, two hours of the fullest load
          the device is used at, then half an hour off.
        </li>
        <li>
          <b>Stay in reach while the pack is warm.</b> A lithium pack that passes its limit can burn. Stop the
          run if a cell passes the maker’s discharging limit, if the pack swells, or if it smells sweet or
          sharp: switch off, take it outside, keep away.
        </li>
        <li>
          <b>Drop the log anywhere on this page.</b> Any delimited text will do; how it is read is shown
          before anything is stored.
        </li>
      </ol>
      <p class="btns">
        <ImportButton build={build} edit={edit} />
      </p>
    </EmptyFace>
  );
}
