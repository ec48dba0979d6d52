import { BadInputError, formatEstimate, OutOfRangeError } from '@soakbench/core/measure';
import { referenceTemperature } from '@soakbench/core/probes';
import type { Rec } from '../parts/record-spec.js';
import { referenceOfForm } from './point-form.js';

/** What the bath was at, as soon as the form says enough: the reader sees at once where a pressure is mistyped. */
export function BathLine({ form }: { readonly form: Rec }) {
  const words = bathTemperature(form);
  return words === null ? null : <p class="still">{words}</p>;
}

export function bathTemperature(form: Rec): string | null {
  const reference = referenceOfForm(form);
  if (reference === null) return null;
  if (reference.kind === 'together')
    return 'The probes are set to their mean; how warm the bath was stays unknown.';
  try {
    const { reference_C, u_K, why } = referenceTemperature(reference, 'This check point');
    return `The bath was at ${formatEstimate({ value: reference_C, u: u_K }, '°C')}: ${why}.`;
  } catch (error) {
    if (error instanceof BadInputError || error instanceof OutOfRangeError) return null;
    throw error;
  }
}
