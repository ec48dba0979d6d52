import { formatCount } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { pageHref } from '../router.js';

/** A build without a run: what to do at the bench, how long it takes, and why. */
export function VerdictStart({ build }: { readonly build: Build }) {
  const entered = [
    build.device ? 'the device' : '',
    build.probes.length > 0 ? formatCount(build.probes.length, 'probe') : '',
    build.setups.length > 0 ? formatCount(build.setups.length, 'set-up') : '',
  ].filter((part) => part !== '');
  return (
    <section class="face">
      <h2>From here to a verdict</h2>
      <ol class="steps">
        <li>
          <b>Enter what is on the table.</b> Device, pack, zones, probes, set-ups, and the warmest place it
          will be used in. With a caliper, half an hour.{' '}
          {entered.length > 0 && `Entered so far: ${entered.join(', ')}.`}{' '}
          <a href={pageHref(build.id, 'build')}>Enter the build</a>
        </li>
        <li>
          <b>Check the probes</b> in crushed ice and in boiling water. Half an hour. Two probes that differ by
          a kelvin make a shield look better or worse by a kelvin.{' '}
          <a href={pageHref(build.id, 'probes')}>Enter the readings</a>
        </li>
        <li>
          <b>Log the bare set-up</b>: an hour idle, two hours at full load. About 3 h, mostly waiting. Stay in
          reach: a lithium pack that gets too hot can burn.{' '}
          <a href={pageHref(build.id, 'runs')}>How to log a run</a>
        </li>
        <li>
          <b>Log each shield, and each one twice</b>, with the shell opened in between. About 3 h each. Only a
          repeat shows how much the way of mounting matters by itself.{' '}
          <a href={pageHref(build.id, 'compare')}>Why twice</a>
        </li>
      </ol>
    </section>
  );
}
