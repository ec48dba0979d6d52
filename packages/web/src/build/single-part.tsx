import type { Build } from '@soakbench/core/records';
import type { PageProps } from '../parts/page.js';
import { RecordForm } from '../parts/record-form.js';
import { type FieldGroup, layChange, type Rec } from '../parts/record-spec.js';

interface SinglePartProps extends Omit<PageProps, 'assessment'> {
  readonly field: 'device' | 'originalPack' | 'newPack' | 'designAmbient' | 'duty';
  readonly groups: readonly FieldGroup[];
  readonly what: string;
}

/** A part the build has once. What is kept is what changed, so that two windows can write in two of its fields. */
export function SinglePart({ build, edit, field, groups, what }: SinglePartProps) {
  const stored = (build[field] as Rec | undefined) ?? null;
  return (
    <RecordForm
      draftKey={`${build.id}/${field}`}
      groups={groups}
      stored={stored}
      onKeep={(record) =>
        edit(
          what,
          (old) => ({ ...old, [field]: layChange(stored ?? {}, record, (old[field] ?? {}) as Rec) }) as Build,
        )
      }
    />
  );
}
