import { probeTitle } from '../drawing/index.js';
import { formatCelsius, formatKelvin, formatNumber } from '../measure/index.js';
import type { BudgetLine, Correction } from '../probes/index.js';
import { writeReadings } from '../probes/index.js';
import type { Probe, ProbeCheck } from '../records/index.js';
import type { ProbesResult } from '../verdict/index.js';
import { type DossierInput, probeName } from './dossier-input.js';
import { html, type Markup } from './markup.js';
import { type Row, writeLevel, writeList, writeNote, writeSheet, writeTable } from './parts.js';
import { nothing, rangeWords, signedKelvin, typedNumber } from './words.js';
import { writeSentence } from './write-opening.js';

/** Can the readings be trusted? Where each probe sits, how it was checked, and what doubt is left where it matters. */
export function writeProbes(input: DossierInput): Markup {
  const { build, assessment } = input;
  const { answer, condition, notes } = assessment.probes;
  const lead = html`<p class="lead">${writeSentence(answer)}</p>`;
  if (build.probes.length === 0) return lead;
  const work = html`${lead}<p class="lead small">${condition}</p>
${writePlaces(input)}${writeCorrections(input)}${writeBudget(input)}${writePoints(input)}${writeList(notes)}`;
  const checks = build.probeChecks.map((check) =>
    writeNote(`Check “${check.id}”`, html`<p>${checkWords(check)}</p>`),
  );
  return writeSheet(
    work,
    [
      ...checks,
      writeNote(
        'How the correction works',
        html`<p>Corrected = reading + offset + (gain − 1) × (reading − pivot). The offset holds at the pivot, the weighted middle of the checked readings.</p>`,
      ),
    ],
    'The checks',
  );
}

function checkWords(check: ProbeCheck): string {
  const at = check.at === undefined ? '' : `Made ${check.at.slice(0, 10)}. `;
  const model =
    check.model === 'offset' ? 'Offset only.' : 'Offset and gain, where the points lie far enough apart.';
  return `${at}${model} ${check.note ?? ''}`.trimEnd();
}

const placeWords: Readonly<Record<Probe['place'], string>> = {
  zone: 'on a zone',
  cell: 'on a pack face',
  ambient: 'in the air of the room',
  shell: 'on the shell',
};

function writePlaces({ build, assessment }: DossierInput): Markup {
  return writeTable(
    'Where the probes sit',
    'Where the probes sit; x along the device, y across it, from its lower left corner seen from the pack side.',
    [
      { title: 'probe' },
      { title: 'place' },
      { title: 'x, y, mm' },
      { title: 'resolution, K', isFigure: true },
      { title: 'maker’s u, K', isFigure: true },
      { title: 'note' },
    ],
    build.probes.map((probe) => {
      const zone = build.zones.find(({ id }) => id === probe.zone)?.name;
      const where = zone ?? (probe.cell === undefined ? placeWords[probe.place] : `cell ${probe.cell}`);
      const at =
        probe.x_mm === undefined || probe.y_mm === undefined
          ? nothing
          : `${typedNumber(probe.x_mm)}, ${typedNumber(probe.y_mm)}`;
      const known = (value: number | undefined) => (value === undefined ? nothing : typedNumber(value));
      return {
        cells: [
          withSensor(probeTitle(probe), sensorOf(assessment.probes, probe.id)?.sensor),
          where,
          at,
          known(probe.resolution_K),
          known(probe.maker_u_K),
          probe.note ?? '',
        ],
      };
    }),
  );
}

function sensorOf({ sensors }: ProbesResult, probe: string): ProbesResult['sensors'][number] | undefined {
  return sensors.find((report) => report.probe === probe);
}

function withSensor(name: string, sensor: string | null | undefined): Markup | string {
  return sensor ? html`${name}<small>${sensor}</small>` : name;
}

const modelWords: Readonly<Record<Correction['model'], string>> = {
  none: 'not checked',
  offset: 'offset',
  'offset-gain': 'offset and gain',
};

function writeCorrections(input: DossierInput): Markup {
  return writeTable(
    'Corrections of the probes',
    'Corrections, from the latest check of each probe.',
    [
      { title: 'probe' },
      { title: 'model' },
      { title: 'offset, K', isFigure: true },
      { title: 'at pivot, °C', isFigure: true },
      { title: 'gain', isFigure: true },
      { title: 'checked from, to, °C' },
    ],
    input.assessment.probes.corrections.map((correction): Row => {
      const name = probeName(input, correction.probe);
      if (correction.model === 'none')
        return {
          cells: [
            name,
            writeLevel('look', modelWords.none),
            `read as it is; its doubt is ${sensorOf(input.assessment.probes, correction.probe)?.basisWords.replace('not checked: ', '') ?? 'not known'}`,
          ],
        };
      const { model, offset_K, pivot_C, gain, checked_C } = correction;
      return {
        cells: [
          name,
          modelWords[model],
          signedKelvin(offset_K, 2),
          model === 'offset-gain' ? formatNumber(pivot_C, 1) : nothing,
          model === 'offset-gain' ? formatNumber(gain, 4) : '1',
          checked_C === null ? nothing : rangeWords(checked_C),
        ],
      };
    }),
  );
}

function writeBudget(input: DossierInput): Markup {
  const { budget } = input.assessment.probes;
  const at = [...new Set(budget.map(({ at_C }) => typedNumber(at_C)))].join(', ');
  return writeTable(
    'Uncertainty budget of the probes',
    html`Budget at ${at} °C, standard uncertainties in K. The last column is what is left in a difference read twice by the same probe, one kelvin apart: offset and bath cancel there.`,
    [
      { title: 'probe' },
      { title: 'correction', isFigure: true },
      { title: 'own readings', isFigure: true },
      { title: 'baths', isFigure: true },
      { title: 'resolution', isFigure: true },
      { title: 'drift', isFigure: true },
      { title: 'attachment', isFigure: true },
      { title: 'cold junction', isFigure: true },
      { title: 'one reading', isFigure: true },
      { title: 'same probe twice', isFigure: true },
    ],
    budget.map((row) => ({
      cells: [
        probeName(input, row.probe),
        signedKelvin(row.correction_K, 2),
        ...partsOf(row),
        doubt(row.total.u_K),
        doubt(row.sameProbe.u_K),
      ],
    })),
  );
}

/** The contributions to one corrected reading; an unchecked probe has its maker's doubt in place of its own readings'. */
function partsOf({ lines }: ProbesResult['budget'][number]): string[] {
  const u = (...names: readonly BudgetLine['name'][]) =>
    doubt(lines.find(({ name }) => names.includes(name))?.u_K ?? 0);
  return [
    u('check-readings', 'maker'),
    u('baths'),
    u('resolution'),
    u('drift'),
    u('attachment'),
    u('cold-junction'),
  ];
}

function doubt(u_K: number): string {
  if (u_K === 0) return nothing;
  return u_K < 0.0005 ? 'under 0.001' : formatNumber(u_K, 3);
}

/** Readings of one probe in one bath stand together. */
function writePoints(input: DossierInput): Markup {
  return writeTable(
    'Every reading of the probe checks',
    'Every reading of the checks, the scatter of several in one bath (their standard deviation), and what the correction leaves of their mean.',
    [
      { title: 'probe' },
      { title: 'check, bath' },
      { title: 'bath at', isFigure: true },
      { title: 'u', isFigure: true },
      { title: 'readings, °C', isFigure: true },
      { title: 'scatter, K', isFigure: true },
      { title: 'left, K', isFigure: true },
    ],
    input.assessment.probes.baths.map(
      (bath): Row => ({
        cells: [
          probeName(input, bath.probe),
          html`${bath.check}<small>${bath.referenceWhy}</small>`,
          formatCelsius(bath.reference_C, 0.01),
          formatKelvin(bath.reference_u_K, 0.01),
          bath.signals.some((signal) => signal !== null)
            ? writeReadings(bath)
            : bath.readings_C.map(typedNumber).join(', '),
          bath.scatter_K === null ? 'one reading' : formatKelvin(bath.scatter_K, 0.01),
          signedKelvin(bath.left_K, 2),
        ],
      }),
    ),
  );
}
