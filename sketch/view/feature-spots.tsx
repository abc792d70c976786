import { useRef } from 'preact/hooks';
import { toScreen, toSheet } from '../canvas/camera.ts';
import { figure } from '../canvas/dimensions.ts';
import type { Sheet } from '../canvas/sheet.ts';
import { type Handle, handlesOf } from '../draft/handles.ts';
import { loose, snap } from '../draft/snap.ts';
import { type Placed, placedFeatures } from '../draft/under.ts';
import type { Part } from '../part/part.ts';
import { distance, type Point } from '../shape/point.ts';
import type { Drafting } from './drafting.ts';
import { nudgeOf } from './nudge.ts';
import type { Store } from './store.ts';

interface SpotProps {
  readonly store: Store;
  readonly sheet: Sheet;
  readonly drafting: Drafting;
}

/** Every feature as a stop of the keyboard on the drawing, and the handles of the one that is picked. */
export const FeatureSpots = (p: SpotProps) => {
  const now = p.store.opened.value ?? p.store.shown.value;
  if (!now || p.drafting.tool.value) return null;
  const [only, more] = p.store.chosen.value;
  return (
    <>
      <ul class="feature-spots" aria-label="Features on the drawing">
        {placedFeatures(now.part).map((f) => (
          <Spot key={f.name} {...p} placed={f} />
        ))}
      </ul>
      {only !== undefined && more === undefined && <Handles {...p} name={only} />}
    </>
  );
};

const Spot = ({ store, sheet, drafting, placed }: SpotProps & { readonly placed: Placed }) => {
  const at = toScreen(sheet.camera.value, sheet.viewport.value, placed.at);
  const picked = store.chosen.value.includes(placed.name);
  return (
    <li>
      <button
        type="button"
        class="feature-spot"
        style={{ left: `${at.x}px`, top: `${at.y}px` }}
        aria-label={`${placed.words}. Arrow keys move it.`}
        aria-pressed={picked}
        data-spot={placed.name}
        onFocus={() => {
          if (!picked) store.pick([placed.name]);
        }}
        onKeyDown={(e) => {
          const by = nudgeOf(e, sheet.camera.value.turned, store.opened.value?.part.unit ?? 'mm');
          if (!by) return;
          e.preventDefault();
          drafting.nudge(by);
        }}
      />
    </li>
  );
};

const Handles = (p: SpotProps & { readonly name: string }) => {
  const now = p.store.opened.value;
  const shown = p.store.shown.value;
  if (!now || !shown) return null;
  const standing = handlesOf(now.document, now.part, p.name);
  // They follow what is shown, while each pull is always made from the part as it stands.
  const following = new Map(handlesOf(shown.document, shown.part, p.name).map((h) => [h.key, h.at]));
  return (
    <>
      {standing.map((h) => (
        <HandleButton key={h.key} {...p} handle={h} at={following.get(h.key) ?? h.at} unit={now.part.unit} />
      ))}
    </>
  );
};

interface HandleProps extends SpotProps {
  readonly handle: Handle;
  readonly at: Point;
  readonly unit: Part['unit'];
}

const HandleButton = ({ store, sheet, drafting, handle, at, unit }: HandleProps) => {
  const from = useRef<Point | null>(null);
  const camera = sheet.camera.value;
  const viewport = sheet.viewport.value;
  const screen = toScreen(camera, viewport, at);
  const held = handle.held.length > 0 ? ` Held by ${handle.held.map((f) => `“${f}”`).join(' and ')}.` : '';

  const pull = (to: Point, reach: number, catching: boolean): boolean => {
    const all = drafting.field.value;
    if (!all) return false;
    // It does not catch on its own place.
    const field = {
      ...all,
      spots: all.spots.filter((s) => distance(s.point, handle.at) > 1e-6),
      edges: handle.key.endsWith('mouth') || handle.kind === 'size' ? all.edges : [],
    };
    const caught = catching && handle.kind === 'place' ? snap(to, reach, field) : loose(to);
    const fine = catching ? field : { ...field, grid: 1e-3, rims: [], edges: [] };
    const edit = store.preview((d) => handle.pull(d, caught, fine, reach));
    drafting.show(edit.ok ? caught : null, edit);
    return edit.ok;
  };

  return (
    <button
      type="button"
      class={`handle handle-${handle.kind}${handle.free ? '' : ' handle-held'}`}
      style={{ left: `${screen.x}px`, top: `${screen.y}px` }}
      aria-label={`${handle.label}, at ${figure(at.x, unit)}, ${figure(at.y, unit)}.${held} Arrow keys move it.`}
      title={held === '' ? handle.label : `${handle.label}:${held}`}
      data-handle={handle.key}
      onPointerDown={(e) => {
        if (e.button !== 0) return;
        from.current = { x: e.clientX, y: e.clientY };
        e.currentTarget.setPointerCapture(e.pointerId);
      }}
      onPointerMove={(e) => {
        if (!from.current) return;
        const touch = e.pointerType === 'touch';
        pull(
          toSheet(camera, viewport, { x: e.clientX, y: e.clientY }),
          (touch ? 22 : 12) / camera.scale,
          true,
        );
      }}
      onPointerUp={() => {
        if (!from.current) return;
        from.current = null;
        drafting.settle();
      }}
      onPointerCancel={() => {
        from.current = null;
        store.drop();
        drafting.show(null, { ok: true });
      }}
      onKeyDown={(e) => {
        const by = nudgeOf(e, camera.turned, unit);
        if (!by) return;
        e.preventDefault();
        if (pull({ x: handle.at.x + by.x, y: handle.at.y + by.y }, 1e-6, false)) drafting.settle();
      }}
    />
  );
};
