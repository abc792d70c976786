import { signal } from '@preact/signals';
import type { Traced } from '../canvas/draw-underlay.ts';
import { type Placement, scaledByTwo } from '../draft/tracing.ts';
import type { Bar } from '../part/part.ts';
import type { Point } from '../shape/point.ts';
import type { Segment } from '../shape/segment.ts';
import { megabytes } from './files.ts';
import type { Edit } from './store.ts';

/** What lies under the sheet as it is kept: the picture's own file, or lines about their middle, mm. */
export type Subject =
  | { readonly kind: 'picture'; readonly name: string; readonly picture: Blob }
  | { readonly kind: 'lines'; readonly name: string; readonly lines: readonly Segment[] };

export interface Underlay {
  readonly subject: Subject;
  readonly traced: Traced;
  /** Width of the picture in pixels, of lines in mm. */
  readonly width: number;
}

/** What is drawn over; it belongs to the window, not to the part's file. */
export const underlay = signal<Underlay | null>(null);
export const placement = signal<Placement>({ middle: { x: 0, y: 0 }, scale: 1, turn: 0, strength: 0.5 });

/** What the hand on the sheet does to the picture now. */
export type Hold =
  | 'move'
  | { readonly first: Point; readonly second: Point; readonly next: 'first' | 'second' };
export const hold = signal<Hold | null>(null);

/** Larger pictures are not taken, bytes: they are kept in the browser, which has no endless room. */
export const LARGEST_PICTURE = 15_000_000;
/** Pictures are shown with at most this many pixels a side, so that the sheet moves with the hand. */
const MOST_PIXELS = 3000;

/** Lays a picture under the sheet, as wide as the bar. */
export const layUnder = async (file: File, bar: Bar | null): Promise<Edit> => {
  if (file.size > LARGEST_PICTURE) {
    return {
      ok: false,
      message: `“${file.name}” has ${megabytes(file.size)}; a picture to draw over may have ${megabytes(LARGEST_PICTURE)}. Save it smaller.`,
    };
  }
  const laid = await shownPicture(file);
  if (!laid) return { ok: false, message: `“${file.name}” cannot be read as a picture.` };
  hold.value = null;
  placement.value = {
    middle: bar ? { x: bar.corner.x + bar.length / 2, y: bar.corner.y + bar.width / 2 } : { x: 0, y: 0 },
    scale: (bar?.length ?? 80) / laid.width,
    turn: 0,
    strength: 0.5,
  };
  underlay.value = { ...laid, subject: { kind: 'picture', name: file.name, picture: file } };
  return { ok: true };
};

/** Lays the lines of a drawing, given about its middle, under the sheet, true to size. */
export const layLinesUnder = (
  name: string,
  lines: readonly Segment[],
  middle: Point,
  width: number,
): void => {
  hold.value = null;
  placement.value = { middle, scale: 1, turn: 0, strength: 0.7 };
  underlay.value = { subject: { kind: 'lines', name, lines }, traced: { kind: 'lines', lines }, width };
};

/** Lays down again what was kept. False when the picture cannot be read any more. */
export const layAgain = async (subject: Subject, where: Placement): Promise<boolean> => {
  if (subject.kind === 'lines') {
    layLinesUnder(subject.name, subject.lines, where.middle, 0);
    placement.value = where;
    return true;
  }
  const laid = await shownPicture(subject.picture);
  if (!laid) return false;
  placement.value = where;
  underlay.value = { ...laid, subject };
  return true;
};

export const takeUnderlayAway = (): void => {
  hold.value = null;
  underlay.value = null;
};

/** Sets the scale by the two points that are held and their true distance, mm. */
export const setScale = (distance: number, level: boolean): Edit => {
  const held = hold.value;
  if (held === null || held === 'move') return { ok: false, message: 'Pick two points first.' };
  if (!(distance > 0)) return { ok: false, message: 'The true distance must be more than 0.' };
  const next = scaledByTwo(placement.value, held.first, held.second, distance, level);
  if (!next) return { ok: false, message: 'The two points must lie apart.' };
  placement.value = next;
  hold.value = null;
  return { ok: true };
};

const shownPicture = async (blob: Blob): Promise<{ traced: Traced; width: number } | null> => {
  try {
    const bitmap = await createImageBitmap(blob);
    const k = Math.min(1, MOST_PIXELS / Math.max(bitmap.width, bitmap.height));
    const picture = document.createElement('canvas');
    picture.width = Math.max(1, Math.round(bitmap.width * k));
    picture.height = Math.max(1, Math.round(bitmap.height * k));
    picture.getContext('2d')?.drawImage(bitmap, 0, 0, picture.width, picture.height);
    bitmap.close();
    return { traced: { kind: 'picture', picture }, width: picture.width };
  } catch {
    return null;
  }
};
