import { useEffect, useId, useState } from 'preact/hooks';
import { type FieldUnit, readTyped, writeTyped } from '../parts/quantity.js';
import { scrollNotDrag } from '../parts/scroll-not-drag.js';

interface DialProps {
  readonly label: string;
  /** Says whose dial it is, for those who do not see where it stands. */
  readonly of?: string;
  readonly unit: FieldUnit;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  readonly onValue: (value: number) => void;
}

/** A number to drag or to type: a grip on a graduated rule, and the figure beside it. Both follow at once, and arrow keys move either. */
export function Dial({ label, of, unit, value, min, max, step, onValue }: DialProps) {
  const id = useId();
  const [text, setText] = useState(writeTyped(value));
  const [error, setError] = useState<string | null>(null);
  useEffect(() => {
    setText(writeTyped(value));
    setError(null);
  }, [value]);

  const take = (typed: string, isFinal: boolean) => {
    setText(typed);
    const read = readTyped(typed, unit);
    const why =
      read.kind === 'number'
        ? read.value < min || read.value > max
          ? `Between ${writeTyped(min)} and ${writeTyped(max)} ${unit}.`
          : null
        : read.kind === 'empty'
          ? 'A number is needed here.'
          : read.why;
    setError(isFinal ? why : null);
    if (read.kind === 'number' && why === null && read.value !== value) onValue(read.value);
    else if (isFinal && why === null) setText(writeTyped(value));
  };
  const whole = of === undefined ? label : `${label}, ${of}`;
  return (
    <div class={error ? 'dial wrong' : 'dial'}>
      <label for={id}>
        {label}
        {of && <span class="vh">, {of}</span>}
        <span class="vh">, {unit}</span>
      </label>
      <span class="figure">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autocomplete="off"
          value={text}
          aria-invalid={error ? 'true' : undefined}
          aria-describedby={error ? `${id}-e` : undefined}
          onInput={(event) => take(event.currentTarget.value, false)}
          onChange={(event) => take(event.currentTarget.value, true)}
        />
        <span class="un" aria-hidden="true">
          {unit}
        </span>
      </span>
      <input
        type="range"
        aria-label={`${whole}, drag`}
        aria-valuetext={`${writeTyped(value)} ${unit}`}
        min={min}
        max={max}
        step={step}
        value={value}
        onInput={(event) => onValue(Number(event.currentTarget.value))}
        {...scrollNotDrag(value, onValue)}
      />
      {error && (
        <span class="err" id={`${id}-e`}>
          {error}
        </span>
      )}
    </div>
  );
}
