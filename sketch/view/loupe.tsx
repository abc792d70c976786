import type { Sheet } from '../canvas/sheet.ts';
import type { Store } from './store.ts';

/** Nearer, farther, all of it; on a phone, where the card is a drawer, undo and redo as well. */
export const Loupe = ({
  sheet,
  store,
  onFit,
}: {
  readonly sheet: Sheet;
  readonly store: Store;
  readonly onFit: () => void;
}) => (
  <section class="loupe" aria-label="The sheet">
    <button type="button" aria-label="Nearer" onClick={() => sheet.zoom(1.25)}>
      +
    </button>
    <button type="button" aria-label="Farther" onClick={() => sheet.zoom(0.8)}>
      −
    </button>
    <button type="button" onClick={onFit}>
      all
    </button>
    <span class="phone-undo">
      <button type="button" aria-label="Undo" disabled={!store.canUndo.value} onClick={store.undo}>
        ↶
      </button>
      <button type="button" aria-label="Redo" disabled={!store.canRedo.value} onClick={store.redo}>
        ↷
      </button>
    </span>
    {sheet.camera.value.turned && <span class="turned-note">turned over: the back is up</span>}
  </section>
);
