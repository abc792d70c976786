import type { Sheet } from '../canvas/sheet.ts';

/** Nearer, farther, all of it. */
export const Loupe = ({ sheet, onFit }: { readonly sheet: Sheet; readonly onFit: () => void }) => (
  <div class="loupe">
    <button type="button" aria-label="Nearer" onClick={() => sheet.zoom(1.25)}>
      +
    </button>
    <button type="button" aria-label="Farther" onClick={() => sheet.zoom(0.8)}>
      −
    </button>
    <button type="button" onClick={onFit}>
      all
    </button>
    {sheet.camera.value.turned && <span class="turned-note">turned over: the back is up</span>}
  </div>
);
