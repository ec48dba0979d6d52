import type { Build } from '@soakbench/core/records';
import { dutyGroups } from '../build/specs.js';
import type { Edit } from '../parts/page.js';
import { RecordForm } from '../parts/record-form.js';

/** The same fields as with the build's other entries: an ordinary day of use. */
export function DutyFields({ build, edit }: { readonly build: Build; readonly edit: Edit }) {
  return (
    <RecordForm
      draftKey={`${build.id}/duty`}
      groups={dutyGroups}
      stored={build.duty ?? null}
      onKeep={(record) => edit('Describe the duty', (old) => ({ ...old, duty: record }) as Build)}
    />
  );
}
