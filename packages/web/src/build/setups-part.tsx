import { defaultNoWorse_K } from '@soakbench/core/compare';
import { formatCount } from '@soakbench/core/measure';
import type { Setup } from '@soakbench/core/records';
import { ChoiceField, NumberField } from '../parts/fields.js';
import type { PageProps } from '../parts/page.js';
import { RecordList } from '../parts/record-list.js';
import type { FieldGroup } from '../parts/record-spec.js';
import { addTo, changeNoWorse, removeSetup, replaceIn } from './change-build.js';
import { SetupLayers } from './setup-layers.js';

const setupGroups: readonly FieldGroup[] = [
  {
    specs: [
      {
        kind: 'text',
        key: 'name',
        label: 'Name',
        required: true,
        maxLength: 120,
        size: 'half',
        example: 'bare, plate, plate on strips',
      },
      { kind: 'text', key: 'note', label: 'Note', maxLength: 4000, size: 'half' },
    ],
  },
];

interface SetupsPartProps extends Omit<PageProps, 'assessment'> {
  readonly shown: string | undefined;
  readonly onShow: (setup: string) => void;
}

/** The shields to be compared: each a stack of layers between zones and pack. */
export function SetupsPart({ build, edit, shown, onShow }: SetupsPartProps) {
  const held = (setup: Setup) => {
    const runs = build.runs.filter((run) => run.setup === setup.id).length;
    return runs > 0 ? `${formatCount(runs, 'run')} made with it, so it stays` : null;
  };
  return (
    <section class="part" id="set-ups">
      <h2>Set-ups</h2>
      <p class="lead">
        What lies between the zones and the pack, one set-up for each way you try. The first is usually the
        bare device, with no layer at all; the others are compared with it.
      </p>
      <RecordList
        noun="set-up"
        draftKey={`${build.id}/setups`}
        items={build.setups}
        groups={setupGroups}
        title={(setup) => (
          <>
            {setup.name}{' '}
            {setup.id === shown ? (
              <span class="small">drawn here</span>
            ) : (
              <button type="button" class="quiet" onClick={() => onShow(setup.id)}>
                Draw it<span class="vh">: {setup.name}</span>
              </button>
            )}
          </>
        )}
        held={held}
        onAdd={(record) =>
          edit(`Add set-up ${record['name']}`, (old) => addTo(old, 'setups', { ...record, layers: [] }))
        }
        onKeep={(index, record) => {
          const setup = build.setups[index];
          if (!setup) return;
          // Layers are edited beside this form, so its copy of them may be old.
          const { layers } = setup;
          edit(`Change set-up ${setup.name}`, (old) =>
            replaceIn(old, 'setups', setup, { ...record, layers }),
          );
        }}
        onRemove={(index) => {
          const setup = build.setups[index];
          if (setup) edit(`Remove set-up ${setup.name}`, (old) => removeSetup(old, setup.id));
        }}
        below={(setup) =>
          setup && <SetupLayers setup={setup} draftKey={`${build.id}/layers/${setup.id}`} edit={edit} />
        }
      />
      {build.setups.length > 1 && (
        <div class="fields baseline">
          <ChoiceField
            label="Compared with"
            size="half"
            value={build.baseline ?? build.setups[0]?.id}
            options={build.setups.map((setup) => [setup.id, setup.name] as const)}
            onValue={(baseline) => edit('Choose the set-up to compare with', (old) => ({ ...old, baseline }))}
          />
          <NumberField
            label="A difference that does not matter"
            unit="K"
            size="half"
            min={0.05}
            max={20}
            value={build.noWorse_K}
            hint={`What “no worse” allows. Without it, ${defaultNoWorse_K} K.`}
            onValue={(noWorse_K) =>
              edit('Change the difference that does not matter', (old) => changeNoWorse(old, noWorse_K))
            }
          />
        </div>
      )}
    </section>
  );
}
