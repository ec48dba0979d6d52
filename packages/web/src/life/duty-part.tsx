import { dutyPresets } from '@soakbench/core/life';
import { type Build, type DutyYear, idFrom, restingStates } from '@soakbench/core/records';
import { useState } from 'preact/hooks';
import type { Edit } from '../parts/page.js';
import { RecordForm } from '../parts/record-form.js';
import { RecordList } from '../parts/record-list.js';
import { layChange, type Rec } from '../parts/record-spec.js';
import { activityGroups, dutyOfForm, formOfDuty, habitGroups, hoursWords } from './present-duty.js';
import { UseLogButton, type UseLogRead, UseLogWords } from './use-log.js';

interface DutyProps {
  readonly build: Build;
  readonly edit: Edit;
  /** The year the forecast was made with, where the build has none of its own. */
  readonly made: DutyYear | null;
}

/** How the device is used through a year: activities, charging, room and shelf. Kept as it is typed, with undo. */
export function DutyPart({ build, edit, made }: DutyProps) {
  const duty = build.dutyYear;
  const [read, setRead] = useState<UseLogRead | null>(null);
  return (
    <section class="part" id="duty-year">
      <h2>The duty, through a year</h2>
      {duty ? (
        <DutyEditor build={build} duty={duty} edit={edit} />
      ) : (
        <p class="lead">
          {made
            ? 'Made from the ordinary day below: charged every night to the full, every day alike. Take it over to correct it, or begin with an invented one.'
            : 'Begin with an invented one that comes near, and correct it.'}
        </p>
      )}
      <p class="btns">
        {!duty && made && (
          <button
            type="button"
            class="btn"
            onClick={() => edit('Describe the year', (old) => ({ ...old, dutyYear: made }))}
          >
            Take over and correct
          </button>
        )}
        {dutyPresets.map(({ id, title, duty: preset }) => (
          <button
            type="button"
            class="btn"
            key={id}
            onClick={() => edit(`Begin with "${title}"`, (old) => ({ ...old, dutyYear: preset }))}
          >
            {title}
          </button>
        ))}
        <UseLogButton build={build} edit={edit} onRead={setRead} />
        {duty && (
          <button
            type="button"
            class="btn"
            onClick={() => edit('Go back to the ordinary day', ({ dutyYear: _, ...old }) => old as Build)}
          >
            Back to the ordinary day
          </button>
        )}
      </p>
      {read && <UseLogWords read={read} />}
    </section>
  );
}

interface EditorProps {
  readonly build: Build;
  readonly duty: DutyYear;
  readonly edit: Edit;
}

function DutyEditor({ build, duty, edit }: EditorProps) {
  const keep = (what: string, next: DutyYear) =>
    edit(what, (old) => ({
      ...old,
      dutyYear: layChange(duty as Rec, next as Rec, (old.dutyYear ?? duty) as Rec) as DutyYear,
    }));
  const keepActivities = (what: string, activities: DutyYear['activities']) =>
    keep(what, { ...duty, origin: 'entered', activities });
  return (
    <>
      <p class="lead">{hoursWords(duty)}</p>
      <RecordList
        noun="activity"
        draftKey={`${build.id}/dutyYear/activities`}
        items={duty.activities}
        groups={activityGroups}
        title={({ name }) => name}
        onAdd={(record) =>
          keepActivities('Add an activity', [
            ...duty.activities,
            {
              ...record,
              id: idFrom(String(record['name']), [...restingStates, ...duty.activities.map(({ id }) => id)]),
            } as DutyYear['activities'][number],
          ])
        }
        onKeep={(index, record) =>
          keepActivities(
            'Change an activity',
            duty.activities.map((each, at) =>
              at === index ? ({ ...each, ...record } as DutyYear['activities'][number]) : each,
            ),
          )
        }
        onRemove={(index) =>
          keepActivities(
            'Remove an activity',
            duty.activities.filter((_, at) => at !== index),
          )
        }
      />
      <div class="dutyhabits">
        <RecordForm
          draftKey={`${build.id}/dutyYear`}
          groups={habitGroups}
          stored={formOfDuty(duty)}
          onKeep={(form) => keep('Change the duty', dutyOfForm(form, duty))}
        />
      </div>
    </>
  );
}
