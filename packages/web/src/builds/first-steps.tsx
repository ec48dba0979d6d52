import { NewBuildForm } from './new-build-form.js';

/** The first page a new bench shows: what the job is, in which order, and how long it takes. */
export function FirstSteps({ onAdd }: { readonly onAdd: (name: string) => Promise<void> }) {
  return (
    <>
      <p class="answer">
        <b>No build yet.</b> Name the device you are refitting; an evening of logs later you know which shield
        to fit, and with what margin.
      </p>
      <p class="cond">
        You need the device open on the table, a caliper, two or more thermocouples and a logger that writes
        files.
      </p>
      <div class="sheet">
        <section>
          <h2>Begin</h2>
          <NewBuildForm onAdd={onAdd} />
        </section>
        <aside class="margin">
          <h3>Before the shell is opened</h3>
          <p>
            Lithium packs can burn, and a pouch is cut by a burr or a slipped blade. Discharge the pack to
            about half, keep metal off its tabs, work on a surface that does not burn, and stay with a run
            from start to end.
          </p>
        </aside>
      </div>
      <section class="part">
        <h2>How the job goes</h2>
        <ol class="steps">
          <li>
            <b>Describe the device, the pack and the shields to try.</b> Ten minutes with a caliper. The
            section drawing grows as you type and shows what room is left.
          </li>
          <li>
            <b>Check the probes in ice and in boiling water.</b> Half an hour. Two probes that disagree by 1 K
            can turn a verdict round.
          </li>
          <li>
            <b>Log runs: idle until steady, full load for two hours, then cooling.</b> About three and a half
            hours each. Begin with the bare device; do two runs or more of each set-up, and open the shell in
            between.
          </li>
          <li>
            <b>Drop the log files on the page.</b> A minute each. How a file was read is shown, and you can
            correct it.
          </li>
          <li>
            <b>Read the verdict.</b> It names the set-up, its margins at your hottest day, and the next
            measurement worth making.
          </li>
        </ol>
      </section>
    </>
  );
}
