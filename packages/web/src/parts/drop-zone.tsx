import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';

export interface DroppedFile {
  readonly file: string;
  /** The beginning, or all of a short file. The rest stays on the disk until it is read piece by piece. */
  readonly head: Uint8Array;
  readonly blob: Blob;
}

/** Several times what is looked at before a log is read. */
const head_bytes = 1_048_576;

interface DropZoneProps {
  /** Called with the files in the order they were dropped. */
  readonly onFiles: (files: readonly DroppedFile[]) => void;
  readonly children: ComponentChildren;
}

function carriesFiles(event: DragEvent): boolean {
  return event.dataTransfer?.types.includes('Files') ?? false;
}

/** The entire window takes files: a log may be dropped wherever the reader happens to be. */
export function DropZone({ onFiles, children }: DropZoneProps) {
  const [over, setOver] = useState(false);

  useEffect(() => {
    // Entering a child leaves its parent, so entries and exits are counted.
    let depth = 0;
    const enter = (event: DragEvent) => {
      if (!carriesFiles(event)) return;
      depth += 1;
      setOver(true);
    };
    const leave = (event: DragEvent) => {
      if (!carriesFiles(event)) return;
      depth = Math.max(0, depth - 1);
      if (depth === 0) setOver(false);
    };
    const allow = (event: DragEvent) => {
      if (carriesFiles(event)) event.preventDefault();
    };
    const drop = (event: DragEvent) => {
      if (!carriesFiles(event)) return;
      event.preventDefault();
      depth = 0;
      setOver(false);
      void readFiles(event.dataTransfer?.files ?? null).then((files) => files.length > 0 && onFiles(files));
    };
    addEventListener('dragenter', enter);
    addEventListener('dragleave', leave);
    addEventListener('dragover', allow);
    addEventListener('drop', drop);
    return () => {
      removeEventListener('dragenter', enter);
      removeEventListener('dragleave', leave);
      removeEventListener('dragover', allow);
      removeEventListener('drop', drop);
    };
  }, [onFiles]);

  return (
    <>
      {children}
      {over && (
        <div class="dropveil" aria-hidden="true">
          <p>Drop the log to import it</p>
        </div>
      )}
    </>
  );
}

/** The files with their beginnings; a folder among them has none and is left out. */
export async function readFiles(list: FileList | null): Promise<readonly DroppedFile[]> {
  const read = [...(list ?? [])].map(async (file) => {
    try {
      const head = new Uint8Array(await file.slice(0, head_bytes).arrayBuffer());
      return [{ file: file.name, head, blob: file }];
    } catch {
      return [];
    }
  });
  return (await Promise.all(read)).flat();
}
