import type { Bar } from '../../sketch/part/part.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { disc, type Region, rectangle } from '../../sketch/shape/region.ts';
import type { ClampSize, PlateHold, ScrewThread } from './route.ts';

/** Heads of socket head screws: diameter and height, mm (ISO 4762, values from memory). */
export const SCREW_HEAD: Readonly<
  Record<ScrewThread, { readonly shank: number; readonly head: number; readonly height: number }>
> = {
  M3: { shank: 3, head: 5.5, height: 3 },
  M4: { shank: 4, head: 7, height: 4 },
  M5: { shank: 5, head: 8.5, height: 5 },
  M6: { shank: 6, head: 10, height: 6 },
  M8: { shank: 8, head: 13, height: 8 },
};

/** A small toe clamp, taken where the part file says no other. Common practice, no source. */
export const TOE_CLAMP: ClampSize = { width: 12, reach: 6, height: 16 };

/** How far a clamp is taken to stretch away from the bar, mm: farther than any path goes. */
const CLAMP_LENGTH = 80;

/** What usual fastenings bear. Values from memory; each can be set in the part file. */
export const USUAL_FASTENING = {
  /** A small clamp done up by hand, N. */
  clamp: 2500,
  /** Masking tape and cyanoacrylate on clean flat metal, MPa sideways and pulled off. */
  tapeShear: 0.15,
  tapePeel: 0.05,
} as const;

/** One thing that stands on the work and holds it down: the drawing's X and Y, mm. */
export interface Foot {
  readonly kind: 'screw' | 'clamp';
  /** Where it presses, and how far round that. */
  readonly at: Point;
  readonly pad: number;
  readonly hole: string | null;
  /** What a cutter must keep out of, seen from above. */
  readonly region: Region;
  /** How far it stands above the top of the work. */
  readonly height: number;
}

/** Where a screw or clamp presses the work onto its plate, and how far round that: the drawing's X and Y, mm. */
export interface Pad {
  readonly at: Point;
  readonly radius: number;
}

/** What presses on work held on a plate; nothing for tape. */
export const padsOf = ({ fastening }: PlateHold): readonly Pad[] => {
  switch (fastening.kind) {
    case 'tape':
      return [];
    case 'screws':
      return fastening.places.map(({ x, y }) => ({
        at: { x, y },
        radius: SCREW_HEAD[fastening.thread].head / 2,
      }));
    case 'clamps':
      return fastening.places.map(({ x, y }) => ({
        at: { x, y },
        radius: (fastening.size ?? TOE_CLAMP).reach,
      }));
  }
};

/** Everything that stands on work held on a plate; none for tape. */
export const feetOf = ({ fastening }: PlateHold, bar: Bar): readonly Foot[] => {
  switch (fastening.kind) {
    case 'tape':
      return [];
    case 'screws': {
      const { head, height } = SCREW_HEAD[fastening.thread];
      return fastening.places.map(
        ({ x, y, hole }): Foot => ({
          kind: 'screw',
          at: { x, y },
          pad: head / 2,
          hole,
          region: disc({ x, y }, head / 2),
          height,
        }),
      );
    }
    case 'clamps': {
      const size = fastening.size ?? TOE_CLAMP;
      return fastening.places.map(
        ({ x, y }): Foot => ({
          kind: 'clamp',
          at: { x, y },
          pad: size.reach,
          hole: null,
          region: clampRegion({ x, y }, bar, size),
          height: size.height,
        }),
      );
    }
  }
};

/** A clamp comes in over the nearest edge of the bar: from a little past where it presses to far outside. */
const clampRegion = (at: Point, bar: Bar, { width, reach }: ClampSize): Region => {
  const low = { x: bar.corner.x - bar.sawn, y: bar.corner.y };
  const high = { x: bar.corner.x + bar.length + bar.sawn, y: bar.corner.y + bar.width };
  const half = width / 2;
  const ways = [
    {
      off: at.x - low.x,
      min: { x: low.x - CLAMP_LENGTH, y: at.y - half },
      max: { x: at.x + reach, y: at.y + half },
    },
    {
      off: high.x - at.x,
      min: { x: at.x - reach, y: at.y - half },
      max: { x: high.x + CLAMP_LENGTH, y: at.y + half },
    },
    {
      off: at.y - low.y,
      min: { x: at.x - half, y: low.y - CLAMP_LENGTH },
      max: { x: at.x + half, y: at.y + reach },
    },
    {
      off: high.y - at.y,
      min: { x: at.x - half, y: at.y - reach },
      max: { x: at.x + half, y: high.y + CLAMP_LENGTH },
    },
  ];
  const { min, max } = ways.reduce((best, way) => (way.off < best.off ? way : best));
  return rectangle(min, max);
};

/** Places are looked for on a grid as wide as this, mm. */
const SCAN = 2;

/** Two places for toe clamps on the bar outside the part, as far from each other as they can be; `clear` mm are left between them and the part. None where there is no room. */
export const clampPlaces = (bar: Bar, farFromPart: (at: Point) => number, clear: number): readonly Point[] =>
  twoPlaces(bar, farFromPart, Math.hypot(TOE_CLAMP.reach, TOE_CLAMP.width / 2) + clear, CLAMP_INSET);

/** The same for screws through the bar, with their heads wholly on it. */
export const screwPlaces = (
  bar: Bar,
  farFromPart: (at: Point) => number,
  clear: number,
  thread: ScrewThread,
): readonly Point[] => {
  const radius = SCREW_HEAD[thread].head / 2;
  return twoPlaces(bar, farFromPart, radius + clear, radius + 0.5);
};

/** A clamp presses no nearer to the bar's edge than this, mm. */
const CLAMP_INSET = 3;
/** Less apart than this two feet hold no turn, mm. */
const APART = 24;

/** The two places of a grid that are farthest from each other. */
const twoPlaces = (
  bar: Bar,
  farFromPart: (at: Point) => number,
  room: number,
  inset: number,
): readonly Point[] => {
  const found: Point[] = [];
  const [left, right] = [bar.corner.x - bar.sawn + inset, bar.corner.x + bar.length + bar.sawn - inset];
  const [low, high] = [bar.corner.y + inset, bar.corner.y + bar.width - inset];
  for (let x = Math.ceil(left); x <= right; x += SCAN) {
    for (let y = Math.ceil(low); y <= high; y += SCAN) {
      if (farFromPart({ x, y }) >= room) found.push({ x, y });
    }
  }
  let best: readonly Point[] = [];
  let most = APART;
  found.forEach((one, i) => {
    for (const other of found.slice(i + 1)) {
      const apart = Math.hypot(other.x - one.x, other.y - one.y);
      if (apart > most) [most, best] = [apart, [one, other]];
    }
  });
  return best;
};
