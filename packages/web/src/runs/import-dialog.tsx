import type { Fault } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { type ReusedRecipe, reuseRecipe, type SniffedLog, sniffLog } from '@soakbench/core/runs';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { useImportRun } from '../api/bench.js';
import { faultsOf } from '../api/faults.js';
import { FaultList } from '../parts/faces.js';
import type { Edit } from '../parts/page.js';
import { goTo, pageHref } from '../router.js';
import { freeFileName, type ImportDraft, runOfDraft, sameLog, twiceFault } from './import-draft.js';
import { ImportForm } from './import-form.js';

interface ImportDialogProps {
  readonly file: string;
  readonly bytes: Uint8Array;
  readonly build: Build;
  readonly edit: Edit;
  /** Called when the dialog is done with the log, stored or not. */
  readonly onClose: () => void;
}

type Sniffed =
  | { readonly ok: true; readonly log: SniffedLog; readonly reused: ReusedRecipe | null }
  | { readonly ok: false; readonly faults: readonly Fault[] };

function sniff(bytes: Uint8Array, file: string, build: Build): Sniffed {
  try {
    const log = sniffLog(bytes, { file, probes: build.probes });
    return { ok: true, log, reused: reuseRecipe(bytes, log, build.runs, file) };
  } catch (error) {
    return { ok: false, faults: faultsOf(error) };
  }
}

/**
 * A dropped or chosen log on its way into the build: how it is read, what only a person knows, and then stored at once
 * with its run, or not at all. Whatever fails, what was entered stays.
 */
export function ImportDialog({ file, bytes, build, edit, onClose }: ImportDialogProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const importRun = useImportRun();
  // The file is looked at once: probes made meanwhile must not throw corrections away.
  const sniffed = useMemo(() => sniff(bytes, file, build), [bytes, file]);
  const [faults, setFaults] = useState<readonly Fault[]>([]);
  const [isStoring, setStoring] = useState(false);
  const back = useRef<Element | null>(null);

  useEffect(() => {
    back.current = document.activeElement;
    dialog.current?.showModal();
    return () => {
      if (back.current instanceof HTMLElement) back.current.focus();
    };
  }, []);

  const store = async (draft: ImportDraft) => {
    setStoring(true);
    setFaults([]);
    try {
      const sha256 = await hashOf(bytes);
      const twin = sameLog(build, sha256);
      if (twin) return setFaults([twiceFault(file, twin)]);
      const name = freeFileName(build, file);
      const run = runOfDraft(build, draft, name, sha256);
      await importRun(run, name, bytes);
      onClose();
      goTo(pageHref(build.id, 'runs', run.id));
    } catch (error) {
      setFaults(faultsOf(error));
    } finally {
      setStoring(false);
    }
    return undefined;
  };

  return (
    <dialog
      ref={dialog}
      class="import"
      aria-labelledby="import-title"
      onCancel={(event) => {
        event.preventDefault();
        if (!isStoring) onClose();
      }}
    >
      <div class="itemhead">
        <h2 id="import-title">
          Import <span class="file">{file}</span>
        </h2>
        <button type="button" class="quiet" onClick={onClose} disabled={isStoring}>
          Close without importing
        </button>
      </div>
      {sniffed.ok ? (
        <ImportForm
          file={file}
          bytes={bytes}
          build={build}
          edit={edit}
          sniffed={sniffed.log}
          reused={sniffed.reused}
          faults={faults}
          isStoring={isStoring}
          onStore={store}
        />
      ) : (
        <div role="alert">
          <p class="lead">This file cannot be read as a log. Nothing was stored.</p>
          <FaultList faults={sniffed.faults} />
        </div>
      )}
    </dialog>
  );
}

/** SHA-256 of the log; zeros where the browser has none to offer (a plain address of another machine), and the server's stands. */
async function hashOf(bytes: Uint8Array): Promise<string> {
  if (globalThis.crypto?.subtle === undefined) return '0'.repeat(64);
  const digest = await crypto.subtle.digest('SHA-256', new Uint8Array(bytes));
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
