import type { Build } from '@soakbench/core/records';
import { ChoiceField, NumberField, TextField } from '../parts/fields.js';
import type { Edit } from '../parts/page.js';
import { bareSetup, freshMounting, type ImportDraft } from './import-draft.js';

export type RunValues = Omit<ImportDraft, 'recipe' | 'answers' | 'text' | 'usesEarlier'>;

interface RunFieldsProps {
  readonly build: Build;
  readonly edit: Edit;
  readonly values: RunValues;
  /** The room was not logged, so its temperature has to be noted. */
  readonly needsAmbient: boolean;
  readonly onChange: (part: Partial<RunValues>) => void;
}

/** Set-up, mounting, session and conditions of a run: what no file can tell. */
export function RunFields({ build, edit, values, needsAmbient, onChange }: RunFieldsProps) {
  const setups = build.setups.map(({ id, name }) => [id, name] as const);
  const chooseSetup = (setup: string | undefined) => {
    if (setup !== '+bare') return onChange({ setup });
    const bare = bareSetup(build);
    edit('Add set-up bare', (old) => ({ ...old, setups: [...old.setups, bare] }));
    return onChange({ setup: bare.id });
  };
  const sessions = unique(build.runs.map((run) => run.session));
  const mountings = unique([freshMounting(build), ...build.runs.map((run) => run.mounting)]);
  return (
    <>
      <fieldset class="fields">
        <legend>Run</legend>
        <ChoiceField
          label="Set-up"
          value={values.setup}
          none="choose"
          required
          options={setups.length > 0 ? setups : [['+bare', 'new set-up: bare, no layers']]}
          onValue={chooseSetup}
        />
        <TextField
          label="Session"
          value={values.session}
          required
          maxLength={60}
          suggestions={sessions}
          hint="Runs of one day and one room share a session."
          onValue={(session) => onChange({ session: session ?? '' })}
        />
        <TextField
          label="Mounting"
          value={values.mounting}
          required
          maxLength={60}
          suggestions={mountings}
          hint="A new name each time the pack was taken out and put in again."
          onValue={(mounting) => onChange({ mounting: mounting ?? '' })}
        />
        <TextField
          label="Name"
          value={values.name}
          maxLength={120}
          placeholder="from its number and set-up"
          onValue={(name) => onChange({ name: name ?? '' })}
        />
      </fieldset>
      <fieldset class="fields">
        <legend>Conditions</legend>
        <ChoiceField
          label="Was the pack being charged?"
          size="half"
          value={values.charging === undefined ? undefined : values.charging ? 'yes' : 'no'}
          none="choose"
          required
          options={[
            ['no', 'no, on its own charge'],
            ['yes', 'yes, charging'],
          ]}
          onValue={(value) => onChange({ charging: value === undefined ? undefined : value === 'yes' })}
        />
        <PowerFields
          label="Load"
          power_W={values.load_W}
          power_u_W={values.load_u_W}
          hint="Power the device drew under load, where it was measured."
          onPower={(load_W) => onChange({ load_W })}
          onDoubt={(load_u_W) => onChange({ load_u_W })}
        />
        <PowerFields
          label="Idle power"
          power_W={values.idle_W}
          power_u_W={values.idle_u_W}
          hint="What it drew before the load came on. With it the heat model learns from idle too."
          onPower={(idle_W) => onChange({ idle_W })}
          onDoubt={(idle_u_W) => onChange({ idle_u_W })}
        />
        <NumberField
          label="Pack current"
          unit="A"
          value={values.pack_A}
          min={0}
          max={1000}
          hint={
            values.charging === true
              ? 'Mean current into the pack under load, where it was measured.'
              : 'Mean current out of the pack under load; nothing where a supply fed the device.'
          }
          onValue={(pack_A) => onChange({ pack_A })}
        />
        {needsAmbient && (
          <>
            <NumberField
              label="Room"
              unit="°C"
              value={values.ambient_C}
              min={-60}
              max={60}
              hint="No probe logged the room: read a thermometer beside the device."
              onValue={(ambient_C) => onChange({ ambient_C })}
            />
            <NumberField
              label="Room, ±"
              unit="K"
              value={values.ambient_u_K}
              min={0}
              max={50}
              hint="1 K where nothing is entered."
              onValue={(ambient_u_K) => onChange({ ambient_u_K })}
            />
          </>
        )}
      </fieldset>
    </>
  );
}

interface PowerFieldsProps {
  readonly label: string;
  readonly power_W: number | undefined;
  readonly power_u_W: number | undefined;
  readonly hint: string;
  readonly onPower: (power_W: number | undefined) => void;
  readonly onDoubt: (power_u_W: number | undefined) => void;
}

/** A power as it was noted, and how far it may be off. */
function PowerFields({ label, power_W, power_u_W, hint, onPower, onDoubt }: PowerFieldsProps) {
  const range = { unit: 'W', min: 0, max: 1000 } as const;
  return (
    <>
      <NumberField label={label} {...range} value={power_W} hint={hint} onValue={onPower} />
      <NumberField label={`${label}, ±`} {...range} value={power_u_W} onValue={onDoubt} />
    </>
  );
}

function unique(items: readonly string[]): string[] {
  return [...new Set(items)];
}
