import type { PickerType } from './file-access.ts';
import { canPickToOpen } from './file-access.ts';
import { acceptOf } from './files.ts';
import type { Store } from './store.ts';
import { pickAndTake, takeFile } from './taking-in.ts';

interface FileFieldProps {
  readonly store: Store;
  readonly types: readonly PickerType[];
  /** What stands on it. */
  readonly words: string;
  /** Spoken name. */
  readonly label: string;
}

/** A button that asks for a file: by the browser's own dialog where the file can be saved to again, else by a field. */
export const FileField = ({ store, types, words, label }: FileFieldProps) => (
  <label class="open-file">
    {words}
    <input
      class="hidden-words"
      type="file"
      accept={acceptOf(types)}
      aria-label={label}
      onClick={(e) => {
        if (!canPickToOpen()) return;
        e.preventDefault();
        void pickAndTake(store, types);
      }}
      onChange={(e) => {
        const input = e.currentTarget;
        const file = input.files?.[0];
        if (file) void takeFile(store, file);
        // The same file may be picked again.
        input.value = '';
      }}
    />
  </label>
);
