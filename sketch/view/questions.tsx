import { useLayoutEffect, useRef } from 'preact/hooks';
import { backToSheet } from './back-to-sheet.ts';
import { type Incoming, take, trouble, waiting } from './opening.ts';
import { overwriting, saveAnew, savePart } from './saving.ts';
import type { Store } from './store.ts';

/** Whether the present part may go. The keyboard is brought to the answer that loses nothing. */
const BeforeLoss = ({ store, incoming }: { readonly store: Store; readonly incoming: Incoming }) => {
  const keep = useRef<HTMLButtonElement>(null);
  useLayoutEffect(() => keep.current?.focus(), [incoming]);
  const present = store.opened.value?.part.name;
  return (
    <div class="trouble" role="alert">
      The present part is not saved. Open “{incoming.name}” and let go what was changed in “{present}”?
      <div class="file-row">
        <button
          type="button"
          onClick={() => {
            take(store, incoming);
            backToSheet();
          }}
        >
          Open it
        </button>
        <button
          ref={keep}
          type="button"
          onClick={() => {
            waiting.value = null;
            backToSheet();
          }}
        >
          Keep this one
        </button>
      </div>
    </div>
  );
};

/** What is asked before work is lost, and what went wrong; all within the card. */
export const Questions = ({ store }: { readonly store: Store }) => (
  <>
    {waiting.value && <BeforeLoss store={store} incoming={waiting.value} />}
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
