import type { Build } from '@soakbench/core/records';
import { useEffect } from 'preact/hooks';
import type { OpenBuild } from '../api/open-build.js';
import { type PageName, pageHref } from '../router.js';
import { describeRefit } from './describe-refit.js';
import { Mark } from './mark.js';

interface HeadProps {
  readonly open: OpenBuild;
  readonly build: Build;
  readonly page: PageName;
  readonly busy: boolean;
}

/** Whose bench this is, whether what was typed is kept, and the way back. */
export function Head({ open, build, page, busy }: HeadProps) {
  const refit = describeRefit(build);
  return (
    <div class="head">
      <Mark />
      <span class="build">
        <a href={pageHref(build.id, 'build')} aria-current={page === 'build' ? 'page' : undefined}>
          {build.name}
          <span class="vh">: device, pack, set-ups and limits</span>
        </a>
        {refit && `, ${refit}`}
        {build.invented && <span class="invented">invented example</span>}
      </span>
      <Keeping open={open} busy={busy} />
    </div>
  );
}

const keptWords = { kept: 'kept', keeping: 'keeping', 'not-kept': 'not kept yet' } as const;

function Keeping({ open, busy }: { readonly open: OpenBuild; readonly busy: boolean }) {
  const keeping = open.keeping.value;
  const { canUndo, canRedo } = open.steps.value;
  useStepKeys(open);
  return (
    <div class="keeping">
      <span class={keeping === 'not-kept' ? 'kept not' : 'kept'} role="status">
        {keeping === 'kept' && busy ? 'computing' : keptWords[keeping]}
      </span>
      <StepButton verb="Undo" keys="Control+Z" can={canUndo} onStep={() => open.undo()} />
      <StepButton verb="Redo" keys="Control+Shift+Z" can={canRedo} onStep={() => open.redo()} />
    </div>
  );
}

interface StepButtonProps {
  readonly verb: string;
  readonly keys: string;
  readonly can: boolean;
  readonly onStep: () => Promise<void>;
}

/** Stays focusable when there is nothing to step to, so that stepping by keyboard does not lose its place. */
function StepButton({ verb, keys, can, onStep }: StepButtonProps) {
  return (
    <button
      type="button"
      class="tool"
      aria-disabled={can ? undefined : 'true'}
      aria-keyshortcuts={keys}
      onClick={() => can && void onStep()}
    >
      {verb}
    </button>
  );
}

/** Ctrl+Z and Ctrl+Shift+Z, unless the cursor is in a field with text that is not kept yet: there they are the field's own. */
function useStepKeys(open: OpenBuild): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || event.defaultPrevented) return;
      const key = event.key.toLowerCase();
      const redo = (key === 'z' && event.shiftKey) || (key === 'y' && event.ctrlKey);
      if (!redo && key !== 'z') return;
      const field = event.target instanceof HTMLElement ? event.target : null;
      if (field?.dataset['typing'] === 'true' || field?.closest('dialog')) return;
      event.preventDefault();
      void (redo ? open.redo() : open.undo());
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [open]);
}
