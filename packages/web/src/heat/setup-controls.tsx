import type { Build, Device, Layer, Outline } from '@soakbench/core/records';
import { materials } from '../build/specs.js';
import { ChoiceField } from '../parts/fields.js';
import { Dial } from './dial.js';
import {
  addLayer,
  changeFinish,
  changeGrade,
  changeLayer,
  changeMaterial,
  changeStrips,
  type Draft,
  finishesOf,
  gradesOf,
  hasOtherFaces,
  insetOf,
  moveLayer,
  removeLayer,
  withInset,
} from './draft.js';

interface ControlsProps {
  readonly build: Build;
  readonly draft: Draft;
  /** Takes a change and not a draft: two changes between two frames must not undo one another. */
  readonly onDraft: (change: (draft: Draft) => Draft) => void;
}

/** Thicker than this no layer of a hand-held device is, mm. */
const thickest_mm = 5;

/** The layers of the set-up that is thought of, from the zones to the pack, each with what can be dragged of it. */
export function LayerControls({ build, draft, onDraft }: ControlsProps) {
  const pack = build.newPack?.outline;
  return (
    <>
      <ol class="stack thought" aria-label="Layers of the set-up you think of, from the zones to the pack">
        <li class="end">zones</li>
        {draft.layers.map((layer, index) => (
          <li key={index}>
            <span />
            <div>
              <div class="itemhead">
                <h3>{layer.name}</h3>
                <span class="acts">
                  <LayerAct
                    words="Up"
                    of={layer.name}
                    can={index > 0}
                    act={() => onDraft((old) => moveLayer(old, index, index - 1))}
                  />
                  <LayerAct
                    words="Down"
                    of={layer.name}
                    can={index < draft.layers.length - 1}
                    act={() => onDraft((old) => moveLayer(old, index, index + 1))}
                  />
                  <LayerAct
                    words="Remove"
                    of={layer.name}
                    can
                    act={() => onDraft((old) => removeLayer(old, index))}
                  />
                </span>
              </div>
              <OneLayer
                layer={layer}
                pack={pack}
                onLayer={(change) => onDraft((old) => changeLayer(old, index, change))}
              />
            </div>
          </li>
        ))}
        <li class="end">pack</li>
      </ol>
      <div class="fields">
        <ChoiceField
          label="Add a layer next to the pack"
          value={undefined}
          none="choose a material"
          size="half"
          options={materials}
          onValue={(material) => material && onDraft((old) => addLayer(old, material as Layer['material']))}
        />
      </div>
    </>
  );
}

interface LayerActProps {
  readonly words: string;
  readonly of: string;
  readonly can: boolean;
  readonly act: () => void;
}

function LayerAct({ words, of, can, act }: LayerActProps) {
  return (
    <button type="button" class="quiet" aria-disabled={can ? undefined : 'true'} onClick={() => can && act()}>
      {words}
      <span class="vh"> {of}</span>
    </button>
  );
}

interface OneLayerProps {
  readonly layer: Layer;
  readonly pack: Outline | undefined;
  readonly onLayer: (change: (layer: Layer) => Layer) => void;
}

function OneLayer({ layer, pack, onLayer }: OneLayerProps) {
  const grades = gradesOf(layer);
  const finishes = finishesOf(layer);
  const inset_mm = pack === undefined ? null : insetOf(layer, pack);
  const of = layer.name;
  return (
    <>
      <div class="dials">
        <Dial
          label="Thickness"
          of={of}
          unit="mm"
          value={layer.thickness_mm}
          min={0.01}
          max={Math.max(2, Math.min(thickest_mm, 2 * layer.thickness_mm))}
          step={0.01}
          onValue={(thickness_mm) => onLayer((old) => ({ ...old, thickness_mm }))}
        />
        {pack !== undefined && inset_mm !== null && layer.material !== 'air' && (
          <Dial
            label="Inside the pack’s edge by"
            of={of}
            unit="mm"
            value={inset_mm}
            min={0}
            max={Math.max(inset_mm, Math.floor(pack.width_mm / 3))}
            step={0.5}
            onValue={(inset) => onLayer((old) => withInset(old, pack, inset))}
          />
        )}
        {layer.strips !== undefined && (
          <StripDials layer={layer} strips={layer.strips} pack={pack} onLayer={onLayer} />
        )}
      </div>
      <details class="fold">
        <summary>
          {madeOf(layer)}
          <span class="vh">: what {of} is made of</span>
        </summary>
        <div class="fields">
          <ChoiceField
            label="Material"
            value={layer.material}
            options={materials}
            onValue={(material) =>
              material && onLayer((old) => changeMaterial(old, material as Layer['material']))
            }
          />
          {grades.length > 0 && (
            <ChoiceField
              label="Grade"
              value={layer.grade}
              none={layer.material === 'other' ? 'choose' : 'the usual one'}
              size="half"
              options={grades}
              onValue={(grade) => onLayer((old) => changeGrade(old, grade))}
            />
          )}
          {finishes.length > 0 && (
            <ChoiceField
              label="Finish"
              value={layer.finish}
              none="as sold"
              options={finishes}
              onValue={(finish) => onLayer((old) => changeFinish(old, finish as Layer['finish']))}
            />
          )}
          {layer.material !== 'air' && (
            <ChoiceField
              label="Laid as"
              value={layer.strips === undefined ? 'sheet' : 'strips'}
              options={[
                ['sheet', 'one sheet'],
                ['strips', 'strips'],
              ]}
              onValue={(laid) =>
                onLayer((old) => changeStrips(old, laid === 'strips' ? { count: 5, width_mm: 4 } : undefined))
              }
            />
          )}
        </div>
      </details>
    </>
  );
}

/** What the fold holds, in a line, so that it need not be opened to be read. */
function madeOf(layer: Layer): string {
  const grade = gradesOf(layer).find(([id]) => id === layer.grade)?.[1];
  const material = materials.find(([id]) => id === layer.material)?.[1] ?? layer.material;
  const words = [grade ?? material, ...(layer.finish === undefined ? [] : [layer.finish])];
  return `${words.join(', ')}, ${layer.strips === undefined ? 'one sheet' : 'strips'}`;
}

function StripDials({
  layer,
  strips,
  pack,
  onLayer,
}: OneLayerProps & { readonly strips: NonNullable<Layer['strips']> }) {
  const along_mm = (layer.outline ?? pack)?.length_mm ?? 100;
  return (
    <>
      <Dial
        label="How many strips"
        of={layer.name}
        unit=""
        value={strips.count}
        min={1}
        max={20}
        step={1}
        onValue={(count) => onLayer((old) => changeStrips(old, { ...strips, count: Math.round(count) }))}
      />
      <Dial
        label="Width of each"
        of={layer.name}
        unit="mm"
        value={strips.width_mm}
        min={0.5}
        max={Math.max(strips.width_mm, Math.floor(along_mm / 4))}
        step={0.5}
        onValue={(width_mm) => onLayer((old) => changeStrips(old, { ...strips, width_mm }))}
      />
    </>
  );
}

const meets = [
  ['air', 'air'],
  ['table', 'a table'],
  ['cloth', 'cloth'],
  ['hand', 'a hand'],
] as const;

type Surroundings = NonNullable<Device['surroundings']>;

/** Room, load and what the faces meet. */
export function RoomControls({ build, draft, onDraft }: ControlsProps) {
  const { surroundings, ambient_C, load_W, charging } = draft;
  const usual_W = usualLoad_W(build);
  const face = (change: Partial<Surroundings>) =>
    onDraft((old) => ({ ...old, surroundings: { ...old.surroundings, ...change } }));
  return (
    <>
      <div class="dials">
        <Dial
          label="Room"
          unit="°C"
          value={ambient_C}
          min={-20}
          max={60}
          step={1}
          onValue={(value) => onDraft((old) => ({ ...old, ambient_C: value }))}
        />
        {usual_W !== null && (
          <Dial
            label="Load"
            unit="W"
            value={load_W ?? usual_W}
            min={0}
            max={Math.ceil(2 * usual_W)}
            step={0.1}
            onValue={(value) => onDraft((old) => ({ ...old, load_W: value }))}
          />
        )}
      </div>
      <div class="fields">
        <ChoiceField
          label="It lies or stands"
          value={surroundings.posture}
          options={[
            ['flat', 'flat'],
            ['upright', 'upright'],
          ]}
          onValue={(posture) => posture && face({ posture: posture as 'flat' | 'upright' })}
        />
        <ChoiceField
          label="Front face meets"
          value={surroundings.front}
          options={meets}
          onValue={(front) => front && face({ front: front as Surroundings['front'] })}
        />
        <ChoiceField
          label="Back face meets"
          value={surroundings.back}
          options={meets}
          onValue={(back) => back && face({ back: back as Surroundings['back'] })}
        />
        <ChoiceField
          label="While it"
          value={charging ? 'charging' : 'load'}
          options={[
            ['load', 'works'],
            ['charging', 'works and charges'],
          ]}
          onValue={(use) => onDraft((old) => ({ ...old, charging: use === 'charging' }))}
        />
        <ChoiceField
          label="Grid"
          value={draft.isFine ? 'fine' : 'usual'}
          options={[
            ['usual', 'as calibrated'],
            ['fine', 'finer'],
          ]}
          hint={draft.isFine ? 'Values move by what the grid is worth; it is part of ±.' : undefined}
          onValue={(grid) => onDraft((old) => ({ ...old, isFine: grid === 'fine' }))}
        />
      </div>
      {hasOtherFaces(build, draft) && (
        <p class="small">
          In no run did the faces meet this. The model carries what it learned over; nothing measured stands
          behind that step, and ± does not hold its doubt.
        </p>
      )}
    </>
  );
}

/** Mean noted power of the runs, else the sum of the zones'; null where neither is entered. */
function usualLoad_W({ runs, zones }: Build): number | null {
  const noted = runs.flatMap(({ conditions }) =>
    conditions?.load_W === undefined ? [] : [conditions.load_W],
  );
  const tidy = (value: number) => Number(value.toFixed(1));
  if (noted.length > 0) return tidy(noted.reduce((sum, each) => sum + each, 0) / noted.length);
  const zoned = zones.flatMap(({ load_W }) => (load_W === undefined ? [] : [load_W]));
  return zoned.length === 0 ? null : tidy(zoned.reduce((sum, each) => sum + each, 0));
}
