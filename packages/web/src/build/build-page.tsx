import type { Zone } from '@soakbench/core/records';
import { useState } from 'preact/hooks';
import { Answer, Condition } from '../parts/answer.js';
import { LevelShape } from '../parts/level.js';
import type { PageProps } from '../parts/page.js';
import { RecordList } from '../parts/record-list.js';
import type { Rec } from '../parts/record-spec.js';
import { addTo, removeFrom, removeZone, replaceIn } from './change-build.js';
import { EntryDrawing } from './entry-drawing.js';
import { type EntryPart, presentEntry, seriesCaution } from './present-entry.js';
import { SetupsPart } from './setups-part.js';
import { SinglePart } from './single-part.js';
import { ambientGroups, deviceGroups, dutyGroups, limitGroups, packGroups, zoneGroups } from './specs.js';

/** The description of the build: device, packs, zones, set-ups, limits, the day it is judged on and how it is used. */
export function BuildPage({ build, edit }: PageProps) {
  const view = presentEntry(build);
  const caution = seriesCaution(build);
  const [chosen, setChosen] = useState<string | undefined>(undefined);
  const shown = build.setups.find((setup) => setup.id === chosen) ?? build.setups.at(-1);

  return (
    <>
      <Answer sentence={view.answer} />
      <Condition>{view.condition}</Condition>
      <div class="desk">
        <div>
          <section class="part" id="device">
            <h2>Device</h2>
            <SinglePart
              build={build}
              edit={edit}
              field="device"
              groups={deviceGroups}
              what="Describe the device"
            />
          </section>
          <section class="part" id="zones">
            <h2>Zones</h2>
            <p class="lead">
              Parts of the board that give off heat, as rectangles seen from the pack side. The section is cut
              through the hottest one.
            </p>
            <ZonesList build={build} edit={edit} />
          </section>
          <section class="part" id="original-pack">
            <h2>Original pack</h2>
            <SinglePart
              build={build}
              edit={edit}
              field="originalPack"
              groups={packGroups}
              what="Describe the original pack"
            />
          </section>
          <section class="part" id="new-pack">
            <h2>New pack</h2>
            {caution && (
              <p class="caution stop">
                <b>Stop.</b> {caution}
              </p>
            )}
            <SinglePart
              build={build}
              edit={edit}
              field="newPack"
              groups={packGroups}
              what="Describe the new pack"
            />
          </section>
          <SetupsPart build={build} edit={edit} shown={shown?.id} onShow={setChosen} />
          <section class="part" id="limits">
            <h2>Limits</h2>
            <p class="lead">
              A new build starts with the limits of the trade. Put the pack maker’s own in their place: its
              sheet knows the cells, the trade does not.
            </p>
            <LimitsList build={build} edit={edit} />
          </section>
          <section class="part" id="design-ambient">
            <h2>Design ambient</h2>
            <p class="lead">
              The hottest air the device will work in: not the bench, the worst day of its life.
            </p>
            <SinglePart
              build={build}
              edit={edit}
              field="designAmbient"
              groups={ambientGroups}
              what="Set the design ambient"
            />
          </section>
          <section class="part" id="duty">
            <h2>Duty</h2>
            <p class="lead">An ordinary day of use. The rest of the 24 hours it lies switched off.</p>
            <SinglePart build={build} edit={edit} field="duty" groups={dutyGroups} what="Describe the duty" />
          </section>
        </div>
        <div class="stay">
          <EntryDrawing build={build} setup={shown?.id} />
          {view.missing.length > 0 && (
            <section class="margin flat">
              <h3>Still to enter</h3>
              <ul>
                {view.missing.map((part) => (
                  <li key={part.what}>
                    <LevelShape level="none" />{' '}
                    <button type="button" class="quiet" onClick={() => goToPart(part.part)}>
                      {part.what}
                    </button>
                    : {part.why}
                  </li>
                ))}
              </ul>
            </section>
          )}
        </div>
      </div>
    </>
  );
}

/** Puts the cursor where the part is entered: its first field, or the button that adds one. */
function goToPart(part: EntryPart): void {
  document.querySelector<HTMLElement>(`#${part} :is(input, .btn)`)?.focus();
}

type ListProps = Omit<PageProps, 'assessment'>;

function ZonesList({ build, edit }: ListProps) {
  return (
    <RecordList<Zone>
      noun="zone"
      draftKey={`${build.id}/zones`}
      items={build.zones}
      groups={zoneGroups}
      title={(zone) => zone.name}
      onAdd={(record) => edit(`Add zone ${record['name']}`, (old) => addTo(old, 'zones', record))}
      onKeep={(index, record) => {
        const zone = build.zones[index];
        if (zone) edit(`Change zone ${zone.name}`, (old) => replaceIn(old, 'zones', zone, record));
      }}
      onRemove={(index) => {
        const zone = build.zones[index];
        if (zone) edit(`Remove zone ${zone.name}`, (old) => removeZone(old, zone.id));
      }}
    />
  );
}

const stateWords = { charging: 'charging', discharging: 'in use', stored: 'stored', any: 'always' } as const;
const placeWords = { cell: 'cell', zone: 'zone', touch: 'touch' } as const;

function LimitsList({ build, edit }: ListProps) {
  return (
    <RecordList
      noun="limit"
      draftKey={`${build.id}/limits`}
      items={build.limits}
      groups={(record) => limitGroups(build.zones, record['where'])}
      title={(limit) =>
        `${placeWords[limit.where]}, ${stateWords[limit.state]}: ${limit.limit_C} °C, ${limit.level}`
      }
      adjust={dropZoneElsewhere}
      onAdd={(record) => edit('Add a limit', (old) => addTo(old, 'limits', record))}
      onKeep={(index, record) => {
        const limit = build.limits[index];
        if (limit) edit('Change a limit', (old) => replaceIn(old, 'limits', limit, record));
      }}
      onRemove={(index) => {
        const limit = build.limits[index];
        if (limit) edit('Remove a limit', (old) => removeFrom(old, 'limits', limit.id));
      }}
    />
  );
}

/** Only a limit on a zone speaks of one. */
function dropZoneElsewhere(record: Rec): Rec {
  if (record['where'] === 'zone') return record;
  const { zone: _, ...rest } = record;
  return rest;
}
