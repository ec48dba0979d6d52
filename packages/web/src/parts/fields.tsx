/** Fields: a label, a ruled line to write on, its unit, and what is wrong with it. They keep what was typed until it can be kept. */
import type { ComponentChildren } from 'preact';
import { useEffect, useId, useState } from 'preact/hooks';
import { type FieldUnit, readTyped, writeTyped } from './quantity.js';
import { readRows, writeRows } from './typed-rows.js';

interface FieldFrame {
  readonly label: string;
  readonly hint?: ComponentChildren;
  readonly placeholder?: string;
  readonly size?: 'half' | 'wide';
}

interface ShellProps extends FieldFrame {
  readonly id: string;
  readonly unit?: string;
  readonly error?: string | null;
  readonly children: ComponentChildren;
}

function FieldShell({ id, label, unit, hint, error, size, children }: ShellProps) {
  return (
    <div class={`field ${size ?? ''} ${error ? 'wrong' : ''}`.trimEnd()}>
      <label class="lb" for={id}>
        {label}
        {unit && <span class="vh">, {unit}</span>}
      </label>
      <span class="pen">
        {children}
        {unit && (
          <span class="un" aria-hidden="true">
            {unit}
          </span>
        )}
      </span>
      <span class="said">
        {error && (
          <span class="err" id={`${id}-e`}>
            {error}
          </span>
        )}
        {hint && (
          <span class="hint" id={`${id}-h`}>
            {hint}
          </span>
        )}
      </span>
    </div>
  );
}

function describedBy(id: string, error: unknown, hint: unknown): string | undefined {
  const ids = [error ? `${id}-e` : '', hint ? `${id}-h` : ''].filter((part) => part !== '');
  return ids.length > 0 ? ids.join(' ') : undefined;
}

export interface NumberRange {
  readonly min?: number;
  readonly max?: number;
  /** Strictly more than this. */
  readonly above?: number;
  readonly whole?: boolean;
}

export interface NumberFieldProps extends FieldFrame, NumberRange {
  readonly unit?: FieldUnit;
  readonly value: number | undefined;
  readonly required?: boolean;
  readonly onValue: (value: number | undefined) => void;
}

/** A number, with a comma or a point, in the field's unit or another one of the trade ("0,5 mm", "1/8" is refused). */
export function NumberField(props: NumberFieldProps) {
  const { label, unit = '', value, required, hint, placeholder, size, onValue } = props;
  const id = useId();
  const [text, setText] = useState(writeTyped(value));
  const [error, setError] = useState<string | null>(null);
  useEffect(() => {
    setText(writeTyped(value));
    setError(null);
  }, [value]);

  const keep = () => {
    const typed = readTyped(text, unit);
    if (typed.kind === 'wrong') return setError(`Not kept. ${typed.why}`);
    if (typed.kind === 'empty') {
      setError(required && value !== undefined ? 'Not kept. A number is needed here.' : null);
      return value === undefined ? undefined : onValue(undefined);
    }
    const why = outOfRange(typed.value, props, unit);
    setError(why && `Not kept. ${why}`);
    if (why) return undefined;
    if (typed.value === value) setText(writeTyped(value));
    else onValue(typed.value);
    return undefined;
  };

  return (
    <FieldShell id={id} label={label} unit={unit} hint={hint} error={error} size={size}>
      <input
        id={id}
        type="text"
        inputMode="decimal"
        autocomplete="off"
        value={text}
        placeholder={placeholder}
        aria-invalid={error ? 'true' : undefined}
        aria-describedby={describedBy(id, error, hint)}
        aria-required={required ? 'true' : undefined}
        data-typing={text !== writeTyped(value) ? 'true' : undefined}
        onInput={(event) => setText(event.currentTarget.value)}
        onChange={keep}
      />
    </FieldShell>
  );
}

function outOfRange(value: number, { min, max, above, whole }: NumberRange, unit: string): string | null {
  const tail = unit === '' ? '' : ` ${unit}`;
  if (whole && !Number.isInteger(value)) return 'A whole number is needed.';
  if (above !== undefined && !(value > above)) return `It must be more than ${writeTyped(above)}${tail}.`;
  if (min !== undefined && value < min) return `It must be at least ${writeTyped(min)}${tail}.`;
  if (max !== undefined && value > max) return `It must be at most ${writeTyped(max)}${tail}.`;
  return null;
}

export interface TextFieldProps extends FieldFrame {
  readonly value: string | undefined;
  readonly required?: boolean;
  readonly lines?: number;
  readonly maxLength?: number;
  readonly suggestions?: readonly string[];
  readonly onValue: (value: string | undefined) => void;
}

export function TextField(props: TextFieldProps) {
  const {
    label,
    value = '',
    required,
    lines,
    maxLength,
    suggestions,
    hint,
    placeholder,
    size,
    onValue,
  } = props;
  const id = useId();
  const [text, setText] = useState(value);
  const [error, setError] = useState<string | null>(null);
  useEffect(() => {
    setText(value);
    setError(null);
  }, [value]);

  const keep = () => {
    const trimmed = text.trim();
    if (trimmed === value) return setText(value);
    setError(required && trimmed === '' && value !== '' ? 'Not kept. A name is needed here.' : null);
    return onValue(trimmed === '' ? undefined : trimmed);
  };

  const common = {
    id,
    value: text,
    placeholder,
    maxLength,
    'aria-invalid': error ? ('true' as const) : undefined,
    'aria-describedby': describedBy(id, error, hint),
    'aria-required': required ? ('true' as const) : undefined,
    'data-typing': text !== value ? 'true' : undefined,
    onChange: keep,
  };
  return (
    <FieldShell id={id} label={label} hint={hint} error={error} size={size}>
      {lines ? (
        <textarea {...common} rows={lines} onInput={(event) => setText(event.currentTarget.value)} />
      ) : (
        <input
          {...common}
          type="text"
          autocomplete="off"
          list={suggestions ? `${id}-l` : undefined}
          onInput={(event) => setText(event.currentTarget.value)}
        />
      )}
      {suggestions && (
        <datalist id={`${id}-l`}>
          {suggestions.map((suggestion) => (
            <option key={suggestion} value={suggestion} />
          ))}
        </datalist>
      )}
    </FieldShell>
  );
}

interface RowsFieldProps extends FieldFrame {
  readonly names: readonly [string, string];
  readonly least: number;
  readonly value: unknown;
  readonly required?: boolean;
  readonly onValue: (rows: unknown) => void;
}

/** A short table as one pastes it from a data sheet; kept once every line is a pair of numbers. */
export function RowsField({ label, names, least, value, required, hint, size, onValue }: RowsFieldProps) {
  const id = useId();
  const kept = writeRows(value, names);
  const [text, setText] = useState(kept);
  const [error, setError] = useState<string | null>(null);
  useEffect(() => {
    setText(kept);
    setError(null);
  }, [kept]);

  const keep = () => {
    if (text.trim() === kept) return setError(null);
    const read = readRows(text, names, least);
    setError(read.ok ? null : `Not kept. ${read.why}`);
    return read.ok ? onValue(read.rows) : undefined;
  };

  return (
    <FieldShell id={id} label={label} hint={hint} error={error} size={size}>
      <textarea
        id={id}
        rows={6}
        value={text}
        aria-invalid={error ? 'true' : undefined}
        aria-describedby={describedBy(id, error, hint)}
        aria-required={required ? 'true' : undefined}
        data-typing={text !== kept ? 'true' : undefined}
        onInput={(event) => setText(event.currentTarget.value)}
        onChange={keep}
      />
    </FieldShell>
  );
}

export interface ChoiceFieldProps extends FieldFrame {
  readonly value: string | undefined;
  readonly options: readonly (readonly [value: string, label: string])[];
  /** Shown while nothing is chosen; absent where a choice always stands. */
  readonly none?: string;
  readonly required?: boolean;
  /** What is wrong with the choice, where it shows only elsewhere. */
  readonly error?: string | null;
  readonly onValue: (value: string | undefined) => void;
}

export function ChoiceField(props: ChoiceFieldProps) {
  const { label, value, options, none, required, error, hint, size, onValue } = props;
  const id = useId();
  return (
    <FieldShell id={id} label={label} hint={hint} error={error} size={size}>
      <select
        id={id}
        value={value ?? ''}
        aria-invalid={error ? 'true' : undefined}
        aria-describedby={describedBy(id, error, hint)}
        aria-required={required ? 'true' : undefined}
        onChange={(event) =>
          onValue(event.currentTarget.value === '' ? undefined : event.currentTarget.value)
        }
      >
        {(none !== undefined || value === undefined) && <option value="">{none ?? 'choose'}</option>}
        {options.map(([key, text]) => (
          <option key={key} value={key}>
            {text}
          </option>
        ))}
      </select>
    </FieldShell>
  );
}

interface MomentFieldProps extends FieldFrame {
  /** ISO 8601 with its offset. */
  readonly value: string | undefined;
  readonly onValue: (value: string | undefined) => void;
}

/** A day and a time of day on the reader's own clock; kept in UTC. */
export function MomentField({ label, value, hint, size, onValue }: MomentFieldProps) {
  const id = useId();
  return (
    <FieldShell id={id} label={label} hint={hint} size={size}>
      <input
        id={id}
        type="datetime-local"
        value={localMinute(value)}
        aria-describedby={describedBy(id, null, hint)}
        onChange={(event) => {
          const at = new Date(event.currentTarget.value);
          onValue(Number.isNaN(at.getTime()) ? undefined : at.toISOString());
        }}
      />
    </FieldShell>
  );
}

function localMinute(value: string | undefined): string {
  if (value === undefined) return '';
  const at = new Date(value);
  return new Date(at.getTime() - at.getTimezoneOffset() * 60_000).toISOString().slice(0, 16);
}
