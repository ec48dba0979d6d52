import type { Build, ProbeCheck } from '@soakbench/core/records';
import { idFrom } from '@soakbench/core/records';
import { ChoiceField, MomentField, TextField } from '../parts/fields.js';
import { clearFormDrafts, formDraft, keepFormDraft, shiftFormDrafts } from '../parts/form-drafts.js';
import type { Edit } from '../parts/page.js';
import { RecordList, RemoveButton } from '../parts/record-list.js';
import { layChange, type Rec } from '../parts/record-spec.js';
import { BathLine } from './bath-line.js';
import { adjustPoint, formOfPoint, missingReading, pointGroups, pointOfForm } from './point-form.js';

interface CheckEditorProps {
  readonly build: Build;
  readonly edit: Edit;
  /** Null for a check that has no complete point yet. */
  readonly check: ProbeCheck | null;
  readonly index: number;
  /** Where half-done forms of all checks wait. */
  readonly draftKey: string;
}

type Point = ProbeCheck['points'][number];
type Head = Pick<ProbeCheck, 'model' | 'at' | 'note'>;

const models = [
  ['offset-gain', 'offset and gain, where the points carry it'],
  ['offset', 'offset only'],
] as const;

const bathWords: Readonly<Record<string, string>> = {
  ice: 'Ice in water',
  boiling: 'Boiling water',
  reference: 'Reference thermometer',
};

/** One evening's check: what the probes were held in, and what each of them read. */
export function CheckEditor({ build, edit, check, index, draftKey }: CheckEditorProps) {
  const key = `${draftKey}/${index}`;
  const head: Head = check ?? { model: 'offset-gain', ...(formDraft(key) as Partial<Head> | null) };
  const changeHead = (field: keyof Head, value: string | undefined) => {
    if (!check) return keepFormDraft(key, { ...formDraft(key), [field]: value });
    return edit('Change a probe check', (old) =>
      changeCheck(old, check.id, (one) => withField(one, field, value)),
    );
  };
  const changePoints = (what: string, change: (points: ProbeCheck['points']) => ProbeCheck['points']) =>
    check &&
    edit(what, (old) => changeCheck(old, check.id, (one) => ({ ...one, points: change(one.points) })));

  return (
    <>
      <div class="itemhead">
        <h3>{check ? `Check ${index + 1}` : 'New check'}</h3>
        <RemoveButton
          noun={check ? 'check' : 'new check'}
          name={String(index + 1)}
          why={null}
          onRemove={() => {
            if (!check) return clearFormDrafts(key);
            shiftFormDrafts(draftKey, build.probeChecks.length, build.probeChecks.length - 1);
            return edit('Remove a probe check', (old) => ({
              ...old,
              probeChecks: old.probeChecks.filter((one) => one.id !== check.id),
            }));
          }}
        />
      </div>
      <div class="fields">
        <MomentField label="When" size="half" value={head.at} onValue={(value) => changeHead('at', value)} />
        <ChoiceField
          label="What is fitted"
          size="half"
          value={head.model}
          options={models}
          onValue={(value) => changeHead('model', value)}
        />
        <TextField
          label="Note"
          size="half"
          maxLength={4000}
          value={head.note}
          onValue={(value) => changeHead('note', value)}
        />
      </div>
      <div class="points">
        <RecordList
          noun="check point"
          draftKey={`${key}/points`}
          items={check ? check.points.map(formOfPoint) : []}
          groups={(form) => pointGroups(build.probes, form)}
          title={(form) => bathWords[String(form['kind'])]}
          adjust={adjustPoint}
          alsoMissing={(form) => missingReading(build.probes, form)}
          below={(_, __, form) => <BathLine form={form} />}
          onAdd={(form) => {
            if (check) return changePoints('Add a check point', (points) => [...points, pointOfForm(form)]);
            clearFormDrafts(key);
            return edit('Add a probe check', (old) => addCheck(old, head, form));
          }}
          onKeep={(place, form) =>
            changePoints('Change a check point', (points) =>
              points.map((point, i) =>
                i === place ? changePoint(point, check?.points[place], form) : point,
              ),
            )
          }
          onRemove={(place) => {
            // A check is nothing without a point.
            if (check?.points.length === 1) {
              return edit('Remove a probe check', (old) => ({
                ...old,
                probeChecks: old.probeChecks.filter((one) => one.id !== check.id),
              }));
            }
            return changePoints('Remove a check point', (points) => points.filter((_, i) => i !== place));
          }}
        />
      </div>
    </>
  );
}

function addCheck(build: Build, head: Head, form: Rec): Build {
  const day = head.at?.slice(0, 10) ?? '';
  const taken = build.probeChecks.map((check) => check.id);
  const check: ProbeCheck = { ...head, id: idFrom(`check ${day}`, taken), points: [pointOfForm(form)] };
  return { ...build, probeChecks: [...build.probeChecks, check] };
}

function changeCheck(build: Build, id: string, change: (check: ProbeCheck) => ProbeCheck): Build {
  return {
    ...build,
    probeChecks: build.probeChecks.map((check) => (check.id === id ? change(check) : check)),
  };
}

function withField(check: ProbeCheck, field: keyof Head, value: string | undefined): ProbeCheck {
  const { [field]: _, ...rest } = check;
  return (value === undefined ? rest : { ...rest, [field]: value }) as ProbeCheck;
}

/** The point with what the form changed, other fields as they are now. */
function changePoint(latest: Point, before: Point | undefined, form: Rec): Point {
  return pointOfForm(layChange(formOfPoint(before ?? latest), form, formOfPoint(latest)), latest);
}
