import { toScreen } from '../canvas/camera.ts';
import type { Sheet } from '../canvas/sheet.ts';
import type { Drafting } from './drafting.ts';
import type { Store } from './store.ts';

/** On an empty bar: how one begins. It goes with the first stroke. */
export const FirstHint = ({
  store,
  sheet,
  drafting,
}: {
  readonly store: Store;
  readonly sheet: Sheet;
  readonly drafting: Drafting;
}) => {
  const part = store.shown.value?.part;
  if (!part || part.ends.length + part.plates.length > 0 || drafting.stroke.value) return null;
  const { corner, length } = part.bar;
  const at = toScreen(sheet.camera.value, sheet.viewport.value, {
    x: corner.x + length / 2,
    y: corner.y,
  });
  return (
    <p class="first-hint" style={{ left: `${at.x}px`, top: `${at.y}px` }}>
      This is the bar. Take <i>end</i> from the row above, press where an end shall be and drag out its
      radius; then pull an <i>arm</i> from it. A number typed while you drag is taken as it stands.
    </p>
  );
};
