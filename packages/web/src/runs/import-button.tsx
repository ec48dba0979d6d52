import type { Build } from '@soakbench/core/records';
import { useRef, useState } from 'preact/hooks';
import { type DroppedFile, readFiles } from '../parts/drop-zone.js';
import type { Edit } from '../parts/page.js';
import { ImportDialog } from './import-dialog.js';

interface ImportButtonProps {
  readonly build: Build;
  readonly edit: Edit;
}

/** The same as dropping a log on the page, for those who do not drag. */
export function ImportButton({ build, edit }: ImportButtonProps) {
  const picker = useRef<HTMLInputElement>(null);
  const [files, setFiles] = useState<readonly DroppedFile[]>([]);
  const [file] = files;
  return (
    <>
      <button type="button" class="btn main" onClick={() => picker.current?.click()}>
        Import log
      </button>
      <input
        ref={picker}
        class="vh"
        type="file"
        multiple
        tabIndex={-1}
        aria-hidden="true"
        aria-label="Logs to import"
        onChange={async (event) => {
          const input = event.currentTarget;
          const read = await readFiles(input.files);
          // Emptied, so that the same file can be chosen again after it was corrected.
          input.value = '';
          setFiles(read);
        }}
      />
      {file && (
        <ImportDialog
          key={`${file.file} ${files.length}`}
          file={file.file}
          head={file.head}
          blob={file.blob}
          build={build}
          edit={edit}
          onClose={() => setFiles((all) => all.slice(1))}
        />
      )}
    </>
  );
}
