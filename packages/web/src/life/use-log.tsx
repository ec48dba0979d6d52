import type { Fault } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { dutyOfLog } from '@soakbench/core/verdict';
import { useRef } from 'preact/hooks';
import { faultsOf } from '../api/faults.js';
import type { Edit } from '../parts/page.js';

/** What came of a log of use: what was read from it, or why it could not be. */
export interface UseLogRead {
  readonly file: string;
  readonly findings: readonly string[];
  readonly faults: readonly Fault[];
}

interface ButtonProps {
  readonly build: Build;
  readonly edit: Edit;
  readonly onRead: (read: UseLogRead) => void;
}

/** Larger than any log of use; reading it would hold the page up. */
const most_bytes = 30e6;

/** The duty from a log of power or charge: an edit like any other, which undo takes back. */
export function UseLogButton({ build, edit, onRead }: ButtonProps) {
  const picker = useRef<HTMLInputElement>(null);
  const take = async (file: File) => {
    try {
      if (file.size > most_bytes) {
        const fault = {
          where: file.name,
          what: 'It is larger than 30 MB.',
          remedy: 'Thin it out to one row a minute.',
        };
        onRead({ file: file.name, findings: [], faults: [fault] });
        return;
      }
      const { duty, findings } = dutyOfLog(build, await file.text(), file.name);
      edit(`Take the duty from "${file.name}"`, (old) => ({ ...old, dutyYear: duty }));
      onRead({ file: file.name, findings, faults: [] });
    } catch (error) {
      onRead({ file: file.name, findings: [], faults: faultsOf(error) });
    }
  };
  return (
    <>
      <button type="button" class="btn" onClick={() => picker.current?.click()}>
        From a log of power or charge
      </button>
      <input
        ref={picker}
        class="vh"
        type="file"
        tabIndex={-1}
        aria-hidden="true"
        aria-label="Log of use"
        onChange={(event) => {
          const input = event.currentTarget;
          const [file] = input.files ?? [];
          if (file) void take(file);
          // Emptied, so that the same file can be chosen again after it was corrected.
          input.value = '';
        }}
      />
    </>
  );
}

export function UseLogWords({ read: { file, findings, faults } }: { readonly read: UseLogRead }) {
  return (
    <div role="status">
      <p class="lead">
        {faults.length > 0
          ? `Nothing was taken from ${file}.`
          : `Taken from ${file}; correct what is not so.`}
      </p>
      <ul>
        {findings.map((words) => (
          <li key={words}>{words}</li>
        ))}
        {faults.map(({ where, what, remedy }) => (
          <li key={where + what}>
            <b>{where}</b>: {what} {remedy}
          </li>
        ))}
      </ul>
    </div>
  );
}
