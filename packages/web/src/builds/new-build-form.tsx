import { useState } from 'preact/hooks';

/** A name is enough to begin; the pages ask for the rest. */
export function NewBuildForm({ onAdd }: { readonly onAdd: (name: string) => Promise<void> }) {
  const [name, setName] = useState('');
  const [missing, setMissing] = useState(false);
  return (
    <form
      class="newbuild"
      onSubmit={(event) => {
        event.preventDefault();
        setMissing(name.trim() === '');
        if (name.trim() !== '') void onAdd(name.trim());
      }}
    >
      <div class={missing ? 'field wrong' : 'field'}>
        <label class="lb" for="new-build">
          Name of the device
        </label>
        <span class="pen">
          <input
            id="new-build"
            type="text"
            autocomplete="off"
            maxLength={120}
            value={name}
            aria-invalid={missing ? 'true' : undefined}
            aria-describedby={missing ? 'new-build-e' : undefined}
            onInput={(event) => setName(event.currentTarget.value)}
          />
        </span>
        {missing && (
          <span class="err" id="new-build-e">
            A name is needed to begin.
          </span>
        )}
      </div>
      <button type="submit" class="btn main">
        Begin a build
      </button>
    </form>
  );
}
