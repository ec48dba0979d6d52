import type { Layer, Setup } from '@soakbench/core/records';
import { useState } from 'preact/hooks';
import { useDragOrder } from '../parts/drag-order.js';
import {
  clearFormDrafts,
  formDraft,
  keepFormDraft,
  placeKey,
  shiftFormDrafts,
} from '../parts/form-drafts.js';
import type { Edit } from '../parts/page.js';
import { writeTyped } from '../parts/quantity.js';
import { RecordForm } from '../parts/record-form.js';
import { RemoveButton } from '../parts/record-list.js';
import { layChange, type Rec } from '../parts/record-spec.js';
import { changeSetup, moveItem } from './change-build.js';
import { layerExtraGroups, layerGroups, materials } from './specs.js';

interface SetupLayersProps {
  readonly setup: Setup;
  readonly draftKey: string;
  readonly edit: Edit;
}

/** What lies between zones and pack, in order. A layer is dragged by its grip, or moved with the arrow keys or the buttons. */
export function SetupLayers({ setup, draftKey, edit }: SetupLayersProps) {
  const { layers } = setup;
  const [said, setSaid] = useState('');
  const [fresh, setFresh] = useState(-1);
  const keyAt = (index: number) => placeKey(draftKey, index);
  const change = (what: string, next: (layers: readonly Layer[]) => readonly Layer[]) =>
    edit(what, (build) => changeSetup(build, setup.id, (old) => ({ ...old, layers: [...next(old.layers)] })));
  const move = (from: number, to: number) => {
    shiftFormDrafts(draftKey, layers.length, layers.length);
    setSaid(`${layers[from]?.name} is now layer ${to + 1} of ${layers.length}.`);
    change(`Move ${layers[from]?.name} in ${setup.name}`, (old) => moveItem(old, from, to));
  };
  const order = useDragOrder(layers.length, move);
  const adding = formDraft(keyAt(layers.length)) !== null;
  const places: readonly (Layer | null)[] = adding ? [...layers, null] : layers;

  const keep = (index: number, layer: Layer | null, record: Rec) => {
    if (layer) {
      change(`Change ${layer.name} in ${setup.name}`, (old) =>
        old.map((one, i) => (i === index ? (layChange(layer, record, one) as Layer) : one)),
      );
    } else change(`Add a layer to ${setup.name}`, (old) => [...old, record as Layer]);
  };
  const remove = (index: number, layer: Layer | null) => {
    if (!layer) return clearFormDrafts(keyAt(index));
    shiftFormDrafts(draftKey, layers.length, layers.length - 1);
    return change(`Remove ${layer.name} from ${setup.name}`, (old) => old.filter((_, i) => i !== index));
  };

  return (
    <>
      <ol class="stack" ref={order.list} aria-label={`Layers of ${setup.name}, from the zones to the pack`}>
        <li class="end">zones</li>
        {places.map((layer, index) => (
          <li key={index} class={rowClass(order, index)}>
            {layer ? (
              <button
                type="button"
                class="grip"
                aria-label={`Move ${layer.name}, layer ${index + 1} of ${layers.length}: arrow up or down`}
                {...order.grip(index)}
              />
            ) : (
              <span />
            )}
            <div>
              <div class="itemhead">
                <h4>{layer?.name ?? 'New layer'}</h4>
                <span class="acts">
                  {layer && index > 0 && (
                    <MoveButton name={layer.name} way="up" onMove={() => move(index, index - 1)} />
                  )}
                  {layer && index < layers.length - 1 && (
                    <MoveButton name={layer.name} way="down" onMove={() => move(index, index + 1)} />
                  )}
                  <RemoveButton
                    noun={layer ? 'layer' : 'new layer'}
                    name={layer?.name ?? ''}
                    why={null}
                    onRemove={() => remove(index, layer)}
                  />
                </span>
              </div>
              <RecordForm
                draftKey={keyAt(index)}
                groups={layerGroups}
                more={{ title: extraWords, groups: layerExtraGroups }}
                stored={layer}
                adjust={nameAfterMaterial}
                focusFirst={index === fresh}
                onKeep={(record) => keep(index, layer, record)}
              />
            </div>
          </li>
        ))}
        <li class="end">pack</li>
      </ol>
      {!adding && (
        <p class="btns">
          <button
            type="button"
            class="btn"
            onClick={() => {
              setFresh(layers.length);
              keepFormDraft(keyAt(layers.length), {});
            }}
          >
            Add layer<span class="vh"> to {setup.name}</span>
          </button>
        </p>
      )}
      <span class="vh" role="status">
        {said}
      </span>
    </>
  );
}

function rowClass(
  order: { lifted: number | null; target: number | null },
  index: number,
): string | undefined {
  if (order.lifted === index) return 'lifted';
  if (order.target !== index || order.lifted === null) return undefined;
  return index > order.lifted ? 'put after' : 'put before';
}

interface MoveButtonProps {
  readonly name: string;
  readonly way: 'up' | 'down';
  readonly onMove: () => void;
}

function MoveButton({ name, way, onMove }: MoveButtonProps) {
  return (
    <button type="button" class="quiet" onClick={onMove}>
      {way === 'up' ? 'Up' : 'Down'}
      <span class="vh">: move {name}</span>
    </button>
  );
}

/** What a layer has besides material and thickness, for the title of the fold that holds it. */
function extraWords(record: Rec): string {
  const { strips, outline } = record as Partial<Layer>;
  const parts = [
    strips ? `${strips.count ?? '?'} strips, ${writeTyped(strips.width_mm) || '?'} mm wide` : '',
    outline
      ? `outline ${writeTyped(outline.length_mm) || '?'} × ${writeTyped(outline.width_mm) || '?'} mm`
      : '',
  ].filter((part) => part !== '');
  return parts.length > 0 ? parts.join('; ') : 'Strips, or an outline of its own';
}

/** A layer is called after its material until it is given a name of its own. */
function nameAfterMaterial(record: Rec, key: string): Rec {
  if (key !== 'material') return record;
  const labels = materials.map(([, label]) => label as string);
  const isOwn = typeof record['name'] === 'string' && !labels.includes(record['name']);
  const label = materials.find(([value]) => value === record['material'])?.[1];
  return isOwn || label === undefined ? record : { ...record, name: label };
}
