import { toScreen } from '../../sketch/canvas/camera.ts';
import type { Sheet } from '../../sketch/canvas/sheet.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { drawerOpen } from '../../sketch/view/stage.ts';
import type { Proof } from '../proof/proof.ts';
import { pickedFinding } from './picking.ts';

/** Marks nearer than this would cover each other, pixels. */
const ROOM = 32;

/** Places for marks, in order: one that would lie on another stands beside it, to the right. */
const beside = (places: readonly (Point | null)[]): readonly (Point | null)[] => {
  const taken: Point[] = [];
  return places.map((place) => {
    if (!place) return null;
    let { x } = place;
    while (taken.some((t) => Math.abs(t.x - x) < ROOM && Math.abs(t.y - place.y) < ROOM)) x += ROOM / 4;
    taken.push({ x, y: place.y });
    return { x, y: place.y };
  });
};

/** The proof's findings as numbered marks on the part; a mark and its sentence pick each other. */
export const FindingMarks = ({ sheet, proof }: { readonly sheet: Sheet; readonly proof: Proof }) => {
  const camera = sheet.camera.value;
  const viewport = sheet.viewport.value;
  const places = beside(proof.findings.map((f) => (f.at ? toScreen(camera, viewport, f.at) : null)));
  // A drawer that is out takes the lower two thirds of a narrow window: what it would half cover is left out.
  const drawer = drawerOpen.value && viewport.width <= 760;
  const lowest = drawer ? viewport.height * 0.32 - ROOM / 2 : Number.POSITIVE_INFINITY;
  return (
    <>
      {proof.findings.map((f, i) => {
        const at = places[i];
        if (!at || at.y > lowest) return null;
        return (
          <button
            key={`${f.code}${f.message}`}
            type="button"
            class={`finding-mark finding-mark-${f.severity}${pickedFinding.value === i ? ' picked' : ''}`}
            style={{ left: `${at.x}px`, top: `${at.y}px` }}
            aria-label={`Finding ${i + 1}: ${f.message}`}
            aria-pressed={pickedFinding.value === i}
            data-mark={i}
            onClick={() => {
              pickedFinding.value = i;
            }}
          >
            {i + 1}
          </button>
        );
      })}
    </>
  );
};
