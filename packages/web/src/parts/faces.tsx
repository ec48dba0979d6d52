import type { Fault } from '@soakbench/core/measure';
import type { ComponentChildren } from 'preact';
import { LevelShape } from './level.js';

/** Nothing here yet: what to do next at the bench, how long it takes, why it matters. */
export function EmptyFace({
  title,
  children,
}: {
  readonly title: string;
  readonly children?: ComponentChildren;
}) {
  return (
    <section class="face">
      <p class="answer">{title}</p>
      {children}
    </section>
  );
}

/** Work is under way; says which, so that waiting has a reason. */
export function LoadingFace({ what }: { readonly what: string }) {
  return (
    <p class="face waiting" role="status">
      {what}
    </p>
  );
}

interface FailedFaceProps {
  readonly title: string;
  readonly faults: readonly Fault[];
  readonly onRetry?: () => void;
}

/** What happened, where, and what to do next. */
export function FailedFace({ title, faults, onRetry }: FailedFaceProps) {
  return (
    <section class="face" role="alert">
      <p class="answer">{title}</p>
      <FaultList faults={faults} />
      {onRetry && (
        <p class="btns">
          <button type="button" class="btn" onClick={onRetry}>
            Try again
          </button>
        </p>
      )}
    </section>
  );
}

export function FaultList({ faults }: { readonly faults: readonly Fault[] }) {
  return (
    <ul class="faults">
      {faults.map((fault) => (
        <li key={`${fault.where} ${fault.what}`}>
          <LevelShape level="stop" />
          <span>
            <b>{fault.where}</b> {fault.what} {fault.remedy}
          </span>
        </li>
      ))}
    </ul>
  );
}
