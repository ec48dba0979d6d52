import { drawIntervals } from '@soakbench/core/drawing';
import { formatCount } from '@soakbench/core/measure';
import type { Build, Probe } from '@soakbench/core/records';
import type { ProbesResult } from '@soakbench/core/verdict';
import { useMemo } from 'preact/hooks';
import { addTo, removeProbe, replaceIn } from '../build/change-build.js';
import { Answer, Condition } from '../parts/answer.js';
import { DrawingView } from '../parts/drawing.js';
import { EmptyFace, LoadingFace } from '../parts/faces.js';
import { formDraft, keepFormDraft } from '../parts/form-drafts.js';
import type { PageProps } from '../parts/page.js';
import { RecordList } from '../parts/record-list.js';
import { DataTable, TableFold } from '../parts/table.js';
import { BudgetTables } from './budget-tables.js';
import { CheckEditor } from './check-editor.js';
import { type ProbesView, presentProbes } from './present-probes.js';
import { adjustProbe, probeGroups } from './probe-specs.js';

/** Can the readings be trusted? Corrections first, then what they rest on, then the forms to enter it. */
export function ProbesPage({ build, assessment, edit }: PageProps) {
  const result = assessment?.probes ?? null;
  const view = useMemo(() => (result ? presentProbes(build, result) : null), [build, result]);
  if (build.probes.length === 0) {
    return (
      <>
        <EmptyFace title="Name the probes: one for each channel of the logger, and where it sits.">
          <p>
            Five minutes. You need at least one on a face of the pack, best under the hottest zone, and one in
            the air of the room, away from the device’s own warmth: every rise is taken against it.
          </p>
        </EmptyFace>
        <ProbesPart build={build} edit={edit} />
      </>
    );
  }
  return (
    <>
      {result && view ? (
        <>
          <Answer sentence={result.answer} />
          <Condition>{result.condition}</Condition>
          <Corrections build={build} result={result} view={view} />
        </>
      ) : (
        <LoadingFace what="Fitting the corrections" />
      )}
      <ChecksPart build={build} edit={edit} />
      <ProbesPart build={build} edit={edit} />
    </>
  );
}

interface CorrectionsProps {
  readonly build: Build;
  readonly result: ProbesResult;
  readonly view: ProbesView;
}

function Corrections({ build, result, view }: CorrectionsProps) {
  const draw = useMemo(() => (width: number) => drawIntervals(view.plot, width), [view]);
  return (
    <div class="sheet">
      <section>
        <h2>What is added to each reading</h2>
        <p class="lead">Ticks are the single check points, reference minus reading.</p>
        <figure>
          <DrawingView draw={draw} />
        </figure>
        <div class="gap">
          <DataTable
            caption="The correction of each probe. “Same probe” is its part in a difference that this probe reads twice, which is what a comparison of set-ups needs."
            label="Corrections"
            columns={[
              { title: 'probe' },
              { title: 'fitted' },
              { title: 'added, K', right: true },
              { title: 'gain', right: true },
              { title: 'u of a reading', right: true },
              { title: 'same probe', right: true },
              { title: 'checked', right: true },
            ]}
            rows={view.corrections.map((row) => ({
              key: row.probe,
              cells: [row.name, row.model, row.correction, row.gain, row.reading, row.sameProbe, row.checked],
            }))}
          />
        </div>
        {view.sensors.length > 0 && (
          <div class="gap">
            <DataTable
              caption="What each probe is made of, and what its doubt stands on."
              label="Sensors"
              columns={[{ title: 'probe' }, { title: 'sensor' }, { title: 'doubt from' }]}
              rows={view.sensors.map((row) => ({ key: row.probe, cells: [row.name, row.sensor, row.basis] }))}
            />
          </div>
        )}
        {view.baths.length > 0 && (
          <TableFold title="Every check point, and what the correction leaves">
            <DataTable
              class="wordy"
              label="Check points"
              caption="What each probe read in each bath. Scatter: standard deviation of one reading about their mean. Left: what the correction leaves of the mean."
              columns={[
                { title: 'probe' },
                { title: 'bath at', right: true },
                { title: 'read, °C', right: true },
                { title: 'scatter, K', right: true },
                { title: 'left, K', right: true },
                { title: 'bath' },
              ]}
              rows={view.baths.map((row) => ({
                key: row.key,
                cells: [row.name, row.reference, row.readings, row.scatter, row.left, row.why],
              }))}
            />
          </TableFold>
        )}
        <BudgetTables build={build} result={result} />
      </section>
      <aside class="margin" aria-label="How to read it">
        <section>
          <h3>How to read it</h3>
          <p>Thick stroke ± u, thin stroke 95 %. Dashed: not checked, only the maker’s word.</p>
          {result.notes.map((note) => (
            <p key={note}>{note}</p>
          ))}
        </section>
      </aside>
    </div>
  );
}

type PartProps = Omit<PageProps, 'assessment'>;

function ChecksPart({ build, edit }: PartProps) {
  const draftKey = `${build.id}/checks`;
  const count = build.probeChecks.length;
  const adding = formDraft(`${draftKey}/${count}`) !== null;
  const places = adding ? [...build.probeChecks, null] : build.probeChecks;
  return (
    <div class="sheet forms">
      <section class="part">
        <h2>Check points</h2>
        <p class="caution">
          <b>Hot water.</b> Boiling water and steam scald whoever reaches over the pot. Clip the leads to the
          rim beforehand, keep them off flame and plate, keep logger and mains leads dry, and check probes
          only: never warm a pack in water.
        </p>
        {places.length > 0 && (
          <ul class="items checks">
            {places.map((check, index) => (
              <li key={index}>
                <CheckEditor build={build} edit={edit} check={check} index={index} draftKey={draftKey} />
              </li>
            ))}
          </ul>
        )}
        {!adding && (
          <p class="btns">
            <button
              type="button"
              class="btn"
              onClick={() => {
                keepFormDraft(`${draftKey}/${count}`, {});
                keepFormDraft(`${draftKey}/${count}/points/0`, {});
              }}
            >
              Add a check
            </button>
          </p>
        )}
      </section>
      <aside class="margin" aria-label="How to check">
        <h3>How to check</h3>
        <p>
          Hold all probes together in a bath whose temperature is known, wait until the readings stand still,
          and write them down as the logger shows them.
        </p>
        <p>
          <b>Ice.</b> Crushed ice with just enough clean water to fill the gaps, stirred; about ten minutes.
        </p>
        <p>
          <b>Boiling water.</b> A rolling boil, probes in the water and clear of the pot. The pressure at the
          kettle decides its temperature: 500 m of altitude make 1.7 K.
        </p>
        <p>Two baths far apart carry offset and gain; one alone carries an offset.</p>
      </aside>
    </div>
  );
}

function ProbesPart({ build, edit }: PartProps) {
  const held = (probe: Probe) => {
    const runs = build.runs.filter((run) =>
      run.recipe.channels.some((channel) => channel.probe === probe.id),
    ).length;
    return runs > 0 ? `read in ${formatCount(runs, 'run')}, so it stays` : null;
  };
  return (
    <div class="sheet forms">
      <section class="part">
        <h2>Probes</h2>
        <RecordList<Probe>
          noun="probe"
          draftKey={`${build.id}/probes`}
          items={build.probes}
          groups={(form) => probeGroups(build.zones, form)}
          title={(probe) => probe.name}
          held={held}
          adjust={adjustProbe}
          onAdd={(record) => edit(`Add probe ${record['name']}`, (old) => addTo(old, 'probes', record))}
          onKeep={(index, record) => {
            const probe = build.probes[index];
            if (probe) edit(`Change probe ${probe.name}`, (old) => replaceIn(old, 'probes', probe, record));
          }}
          onRemove={(index) => {
            const probe = build.probes[index];
            if (probe) edit(`Remove probe ${probe.name}`, (old) => removeProbe(old, probe.id));
          }}
        />
      </section>
      <aside class="margin" aria-label="Where they sit">
        <h3>Where they sit</h3>
        <p>Places are seen from the pack side, from the device’s lower left corner.</p>
        <p>
          Press the junction flat under its tape: a probe that hangs in the air reads low, and every set-up
          looks better than it is.
        </p>
        <h3>What they are made of</h3>
        <p>
          A log in mV or ohms needs the sensor. A thermocouple tells how much warmer its tip is than the
          logger’s terminals, so their temperature must be logged or stated. Without a check, the class of the
          sensor says how far a reading may be off.
        </p>
      </aside>
    </div>
  );
}
