import { formatThickness } from '../drawing/index.js';
import type { Build, Layer, Outline, Pack, Setup } from '../records/index.js';
import { setupThickness_mm } from '../verdict/index.js';
import type { DossierInput } from './dossier-input.js';
import { html, type Markup } from './markup.js';
import { type Row, writeList, writeTable } from './parts.js';
import { nothing, typedNumber } from './words.js';

/** What was fitted: device, packs and zones as recorded, then every set-up layer by layer. */
export function writeSetups(input: DossierInput): Markup {
  const { build } = input;
  return html`${build.note !== undefined && html`<p class="lead">${build.note}</p>`}${writeList(recordLines(build))}
${writePacks(build)}${writeZones(build)}
${build.setups.length === 0 ? html`<p>No set-up is described.</p>` : writeLayers(input)}`;
}

function recordLines({ device, designAmbient, duty }: Build): Markup[] {
  const lines: Markup[] = [];
  if (device === undefined) lines.push(html`<b>Device</b> not described.`);
  else {
    const { name, length_mm, width_mm, frontShell_mm, frontGap_mm, board, bay_mm, backShell_mm, note } =
      device;
    lines.push(
      html`<b>Device</b> ${name}, ${typedNumber(length_mm)} × ${typedNumber(width_mm)} mm. From the front, in mm: shell ${typedNumber(frontShell_mm)}, keys, display and air ${typedNumber(frontGap_mm)}, board ${typedNumber(board.thickness_mm)}, bay ${typedNumber(bay_mm)}, shell ${typedNumber(backShell_mm)}. ${note ?? ''}`,
    );
  }
  lines.push(
    designAmbient === undefined
      ? html`<b>Design ambient</b> not set.`
      : html`<b>Design ambient</b> ${typedNumber(designAmbient.ambient_C)} °C. Source: ${designAmbient.source ?? 'not named'}.`,
  );
  lines.push(
    duty === undefined
      ? html`<b>Duty</b> not set.`
      : html`<b>Duty</b> ${typedNumber(duty.load_h_per_day)} h under load and ${typedNumber(duty.idle_h_per_day)} h idle a day at ${typedNumber(duty.ambient_C)} °C; the rest switched off at ${typedNumber(duty.rest_C)} °C.`,
  );
  return lines;
}

function writePacks({ originalPack, newPack }: Build): Markup {
  const packs = [
    ['original', originalPack],
    ['new', newPack],
  ] as const;
  return writeTable(
    'The packs',
    'Packs, as labelled or measured.',
    [
      { title: 'pack' },
      { title: 'chemistry' },
      { title: 'cells' },
      { title: 'mAh', isFigure: true },
      { title: 'V', isFigure: true },
      { title: 'Wh', isFigure: true },
      { title: 'g', isFigure: true },
      { title: 'size, mm' },
    ],
    packs.map(([which, pack]): Row => {
      if (pack === undefined) return { cells: [which, 'not described'] };
      const { name, note, chemistry, series, parallel, capacity_mAh, nominal_V, energy_Wh, mass_g } = pack;
      return {
        cells: [
          html`${which}<small>${name}${note !== undefined && `; ${note}`}</small>`,
          chemistry ?? nothing,
          `${series} in series × ${parallel}`,
          known(capacity_mAh),
          known(nominal_V),
          known(energy_Wh),
          known(mass_g),
          packSize(pack),
        ],
      };
    }),
  );
}

function packSize({ outline, thickness_mm }: Pack): string {
  const area =
    outline === undefined ? '' : `${typedNumber(outline.length_mm)} × ${typedNumber(outline.width_mm)} × `;
  return thickness_mm === undefined && area === ''
    ? nothing
    : `${area}${thickness_mm === undefined ? 'thickness not known' : typedNumber(thickness_mm)}`;
}

function known(value: number | undefined): string {
  return value === undefined ? nothing : typedNumber(value);
}

function writeZones({ zones }: Build): Markup {
  return writeTable(
    'The zones that give off heat',
    'Zones that give off heat.',
    [
      { title: 'zone' },
      { title: 'size, mm' },
      { title: 'at x, y, mm' },
      { title: 'height, mm', isFigure: true },
      { title: 'load, W', isFigure: true },
    ],
    zones.map((zone) => ({
      cells: [zone.name, ...outlineCells(zone), typedNumber(zone.height_mm), known(zone.load_W)],
    })),
  );
}

function outlineCells(outline: Outline | undefined): [string, string] {
  if (outline === undefined) return ['as the pack', nothing];
  const { x_mm, y_mm, length_mm, width_mm } = outline;
  return [
    `${typedNumber(length_mm)} × ${typedNumber(width_mm)}`,
    `${typedNumber(x_mm)}, ${typedNumber(y_mm)}`,
  ];
}

function writeLayers({ build }: DossierInput): Markup {
  return writeTable(
    'Layers of every set-up',
    'Every set-up, from the zones towards the pack.',
    [
      { title: 'set-up' },
      { title: 'layer' },
      { title: 'material' },
      { title: 'mm', isFigure: true },
      { title: 'outline, mm' },
      { title: 'at x, y, mm' },
    ],
    build.setups.flatMap((setup) => setupRows(build, setup)),
  );
}

function setupRows(build: Build, setup: Setup): Row[] {
  const name = html`<b>${setup.name}</b>${setup.id === (build.baseline ?? build.setups[0]?.id) && html`<small>baseline</small>`}`;
  const note = setup.note === undefined ? '' : ` ${setup.note}`;
  if (setup.layers.length === 0) return [{ cells: [name, `Nothing between zones and pack.${note}`] }];
  const total = html`<b>${formatThickness(setupThickness_mm(build, setup.id))}</b>`;
  // Said once to the eye; a reader who goes by rows hears it in each.
  const again = html`<span class="vh">${setup.name}</span>`;
  return [
    ...setup.layers.map(
      (layer, index): Row => ({ cells: [index === 0 ? name : again, ...layerCells(layer)] }),
    ),
    { cells: [again, 'together', '', total, note.trim()] },
  ];
}

function layerCells({ name, material, thickness_mm, outline, strips }: Layer): (string | Markup)[] {
  const called =
    strips === undefined
      ? name
      : html`${name}<small>${strips.count} strips, each ${typedNumber(strips.width_mm)} mm wide, evenly spaced</small>`;
  return [called, material, formatThickness(thickness_mm), ...outlineCells(outline)];
}
