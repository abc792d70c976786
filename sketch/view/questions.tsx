import { take, trouble, waiting } from './opening.ts';
import { overwriting, saveAnew, savePart } from './saving.ts';
import type { Store } from './store.ts';

/** What is asked before work is lost, and what went wrong; all within the card. */
export const Questions = ({ store }: { readonly store: Store }) => (
  <>
    {waiting.value && (
      <div class="trouble" role="alert">
        The present part is not saved. Open “{waiting.value.name}” and lose its changes?
        <div class="file-row">
          <button type="button" onClick={() => waiting.value && take(store, waiting.value)}>
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
    {overwriting.value && (
      <div class="trouble" role="alert">
        “{overwriting.value.name}” has been changed by another window or program since it was opened here.
        Write over it?
        <div class="file-row">
          <button type="button" onClick={() => void saveAnew(store)}>
            Save under another name
          </button>
          <button type="button" onClick={() => void savePart(store, true)}>
            Write over it
          </button>
          <button
            type="button"
            onClick={() => {
              overwriting.value = null;
            }}
          >
            Leave it
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
  </>
);
