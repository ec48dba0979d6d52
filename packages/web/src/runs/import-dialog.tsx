import type { Fault } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { type ReusedRecipe, reuseRecipe, type SniffedLog, sniffLog } from '@soakbench/core/runs';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { useImportRun } from '../api/bench.js';
import { faultsOf } from '../api/faults.js';
import { FaultList } from '../parts/faces.js';
import type { Edit } from '../parts/page.js';
import { goTo, pageHref } from '../router.js';
import { LogReader } from '../worker/log-reader.js';
import { freeFileName, type ImportDraft, runOfDraft, sameLog, twiceFault } from './import-draft.js';
import { ImportForm } from './import-form.js';

interface ImportDialogProps {
  readonly file: string;
  /** The beginning of the log. */
  readonly head: Uint8Array;
  /** All of it. */
  readonly blob: Blob;
  readonly build: Build;
  readonly edit: Edit;
  /** Called when the dialog is done with the log, stored or not. */
  readonly onClose: () => void;
}

type Sniffed =
  | { readonly ok: true; readonly log: SniffedLog; readonly reused: ReusedRecipe | null }
  | { readonly ok: false; readonly faults: readonly Fault[] };

function sniff(head: Uint8Array, file: string, build: Build): Sniffed {
  try {
    const log = sniffLog(head, { file, probes: build.probes });
    return { ok: true, log, reused: reuseRecipe(head, log, build.runs, file) };
  } catch (error) {
    return { ok: false, faults: faultsOf(error) };
  }
}

/**
 * A dropped or chosen log on its way into the build: how it is read, what only a person knows, and then stored at once
 * with its run, or not at all. Whatever fails, what was entered stays.
 */
export function ImportDialog({ file, head, blob, build, edit, onClose }: ImportDialogProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const importRun = useImportRun();
  // The file is looked at once: probes made meanwhile must not throw corrections away.
  const sniffed = useMemo(() => sniff(head, file, build), [head, file]);
  const [faults, setFaults] = useState<readonly Fault[]>([]);
  const [isStoring, setStoring] = useState(false);
  const reading = useRef<LogReader | null>(null);
  const [read_bytes, setRead] = useState<number | null>(null);
  const back = useRef<Element | null>(null);

  useEffect(() => {
    back.current = document.activeElement;
    dialog.current?.showModal();
    return () => {
      reading.current?.close();
      if (back.current instanceof HTMLElement) back.current.focus();
    };
  }, []);

  /** Reads all of the log before any of it is sent; null where that was stopped. */
  const readAhead = async ({ recipe }: ImportDraft): Promise<string | null> => {
    const reader = new LogReader();
    reading.current = reader;
    try {
      return await reader.read(blob, recipe, file, (read_bytes) => setRead(read_bytes));
    } finally {
      reader.close();
      reading.current = null;
      setRead(null);
    }
  };

  const store = async (draft: ImportDraft) => {
    setStoring(true);
    setFaults([]);
    try {
      const sha256 = await readAhead(draft);
      if (sha256 === null) return undefined;
      const twin = sameLog(build, sha256);
      if (twin) return setFaults([twiceFault(file, twin)]);
      const name = freeFileName(build, file);
      const run = runOfDraft(build, draft, name, sha256);
      await importRun(run, name, blob);
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
          head={head}
          build={build}
          edit={edit}
          sniffed={sniffed.log}
          reused={sniffed.reused}
          faults={faults}
          isStoring={isStoring}
          progress={
            read_bytes === null || blob.size <= head.length
              ? null
              : { read_bytes, all_bytes: blob.size, stop: () => reading.current?.close() }
          }
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
