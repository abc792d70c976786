import { useSignal } from '@preact/signals';
import { figure } from '../canvas/dimensions.ts';
import { writePart } from '../part/document.ts';
import type { PartDocument } from '../part/schema.ts';
import { fileStem, readFile, saveText } from './files.ts';
import type { Edit, Store } from './store.ts';

export interface Sample {
  readonly name: string;
  readonly text: string;
}

/** The head of the job card: which part this is, and the ways in and out for its file. */
export const TitleBlock = ({
  store,
  samples,
}: {
  readonly store: Store;
  readonly samples: readonly Sample[];
}) => {
  const trouble = useSignal<string | null>(null);
  /** A part that waits while the present one is not saved. */
  const waiting = useSignal<{ name: string; text: string } | null>(null);
  const opened = store.opened.value;

  const take = (name: string, text: string): void => {
    waiting.value = null;
    const edit: Edit = store.open(text);
    trouble.value = edit.ok
      ? null
      : `“${name}” was not opened. ${edit.message}${store.opened.value ? ' The present part is untouched.' : ''}`;
  };
  const ask = (name: string, text: string): void => {
    if (store.unsaved.value) waiting.value = { name, text };
    else take(name, text);
  };
  const save = (): void => {
    if (!opened) return;
    saveText(
      `${fileStem(opened.part.name)}.json`,
      writePart(opened.document as unknown as PartDocument),
      'application/json',
    );
    store.saved();
  };

  return (
    <header class="card-top">
      <h1>{opened ? opened.part.name : 'No part is open'}</h1>
      {opened && (
        <p class="bar-line">
          Bar {figure(opened.part.bar.length, opened.part.unit)} ×{' '}
          {figure(opened.part.bar.width, opened.part.unit)} ×{' '}
          {figure(opened.part.bar.thickness, opened.part.unit)} {opened.part.unit === 'mm' ? 'mm' : 'in'},{' '}
          {opened.part.bar.material}
          {store.unsaved.value ? ' · not saved' : ''}
        </p>
      )}
      <div class="file-row">
        <select
          aria-label="Open a sample"
          value=""
          onChange={(e) => {
            const chosen = samples.find((s) => s.name === e.currentTarget.value);
            if (chosen) ask(chosen.name, chosen.text);
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
        <label class="open-file">
          Open
          <input
            class="hidden-words"
            type="file"
            accept=".json,application/json"
            aria-label="Open a part file"
            onChange={async (e) => {
              const input = e.currentTarget;
              const file = input.files?.[0];
              if (!file) return;
              const read = await readFile(file);
              input.value = '';
              if (read.ok) ask(file.name, read.text);
              else trouble.value = read.message;
            }}
          />
        </label>
        <button type="button" onClick={save} disabled={!opened}>
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
      {waiting.value && (
        <div class="trouble" role="alert">
          The present part is not saved. Open “{waiting.value.name}” and lose its changes?
          <div class="file-row">
            <button
              type="button"
              onClick={() => waiting.value && take(waiting.value.name, waiting.value.text)}
            >
              Open it
            </button>
            <button
              type="button"
              onClick={() => {
                waiting.value = null;
              }}
            >
              Keep this one
            </button>
          </div>
        </div>
      )}
      {trouble.value && (
        <div class="trouble" role="alert" data-trouble>
          <button
            type="button"
            class="quiet"
            onClick={() => {
              trouble.value = null;
            }}
          >
            put away
          </button>
          {trouble.value}
        </div>
      )}
    </header>
  );
};
