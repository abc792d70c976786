import { FileField } from './file-field.tsx';
import { PART_FILES } from './files.ts';
import { beginning } from './new-part-card.tsx';
import { ask } from './opening.ts';
import { savePart } from './saving.ts';
import type { Store } from './store.ts';
import type { Sample } from './title-block.tsx';

/** Open, begin, save, undo. */
export const FileRow = ({
  store,
  samples,
}: {
  readonly store: Store;
  readonly samples: readonly Sample[];
}) => (
  <div class="file-row">
    <select
      aria-label="Open a sample"
      value=""
      onChange={(e) => {
        const chosen = samples.find((s) => s.name === e.currentTarget.value);
        if (chosen) ask(store, chosen);
        e.currentTarget.value = '';
      }}
    >
      <option value="">Samples</option>
      {samples.map((s) => (
        <option key={s.name} value={s.name}>
          {s.name}
        </option>
      ))}
    </select>
    <button
      type="button"
      aria-expanded={beginning.value}
      onClick={() => {
        beginning.value = !beginning.value;
      }}
    >
      New
    </button>
    <FileField store={store} types={[PART_FILES]} words="Open" label="Open a part file" />
    <button
      type="button"
      title="Save part (Ctrl+S)"
      onClick={() => void savePart(store)}
      disabled={!store.opened.value}
    >
      Save part
    </button>
    <button
      type="button"
      aria-label="Undo"
      title="Undo (Ctrl+Z)"
      onClick={store.undo}
      disabled={!store.canUndo.value}
    >
      ↶
    </button>
    <button
      type="button"
      aria-label="Redo"
      title="Redo (Ctrl+Y)"
      onClick={store.redo}
      disabled={!store.canRedo.value}
    >
      ↷
    </button>
  </div>
);
