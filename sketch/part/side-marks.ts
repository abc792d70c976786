import { intersection } from '../shape/boolean.ts';
import { dot, type Point } from '../shape/point.ts';
import { type Region, regionBox } from '../shape/region.ts';
import { heightsOfCut, landRegion, surfacesAt } from './cut-outs.ts';
import type { Hole, Part } from './part.ts';
import { axesOf, type Side, type SideLine } from './side-view.ts';
import type { Solid } from './solid.ts';

/** A height that a side view says: between two levels, over a stretch of the view, mm. */
export interface SideHeight {
  /** The land it belongs to; empty for the whole part. */
  readonly feature: string;
  readonly from: number;
  readonly to: number;
  readonly bottom: number;
  readonly top: number;
}

/** What a side view shows besides edges. */
export interface SideMarks {
  /** ISO 6410-1: the outside of a thread behind metal, in thin dashes beside its core. */
  readonly threads: readonly SideLine[];
  /** Axes of round ends, holes and the two rounds of slots, as long as what they are the axis of. */
  readonly centres: readonly SideLine[];
  /** The part's thickness and that of every land, each said once. */
  readonly heights: readonly SideHeight[];
}

const SAME = 1e-3;

export const sideMarksOf = (part: Part, outline: Region, solid: Solid, side: Side): SideMarks => {
  const { across } = axesOf(side);
  const lines = (centre: Point, half: number, span: Span): readonly SideLine[] => {
    const s = dot(centre, across);
    const at = (place: number): SideLine => ({
      from: { s: place, z: span.bottom },
      to: { s: place, z: span.top },
    });
    return half === 0 ? [at(s)] : [at(s - half), at(s + half)];
  };
  const centres = [
    ...part.holes.flatMap((h) => lines(h.centre, 0, spanOf(part, h))),
    ...part.slots.flatMap((slot) =>
      [slot.from, slot.to].flatMap((c) => lines(c, 0, within(part, c, slot.depth, slot.face))),
    ),
    ...part.ends
      .filter(
        (e) => !part.holes.some((h) => Math.hypot(h.centre.x - e.centre.x, h.centre.y - e.centre.y) < SAME),
      )
      .flatMap((e) => lines(e.centre, 0, surfacesAt(part, e.centre))),
  ];
  return {
    threads: part.holes.flatMap((h) =>
      h.purpose === 'tapped' ? lines(h.centre, h.major / 2, spanOf(part, h)) : [],
    ),
    centres: longestAtEach(centres),
    heights: heightsOf(part, outline, solid, across),
  };
};

interface Span {
  readonly bottom: number;
  readonly top: number;
}

/** Between which heights a hole has walls, mm. */
export const spanOf = (part: Part, h: Hole): Span => within(part, h.centre, h.depth, h.from);

/** Between which heights a cut has walls: within the part's own two surfaces there. */
const within = (part: Part, at: Point, depth: number | null, face: 'front' | 'back'): Span => {
  const own = surfacesAt(part, at);
  const cut = heightsOfCut(part, at, depth, face);
  return { bottom: Math.max(own.bottom, cut.bottom), top: Math.min(own.top, cut.top) };
};

/** Axes that lie behind one another are drawn once, as long as the longest. */
const longestAtEach = (lines: readonly SideLine[]): readonly SideLine[] => {
  const kept: SideLine[] = [];
  for (const l of lines) {
    const i = kept.findIndex((k) => Math.abs(k.from.s - l.from.s) < SAME);
    if (i < 0) kept.push(l);
    else {
      const k = kept[i]!;
      kept[i] = {
        from: { s: k.from.s, z: Math.min(k.from.z, l.from.z) },
        to: { s: k.to.s, z: Math.max(k.to.z, l.to.z) },
      };
    }
  }
  return kept;
};

const heightsOf = (part: Part, outline: Region, solid: Solid, across: Point): readonly SideHeight[] => {
  const bottom = Math.min(...solid.slabs.map((s) => s.bottom));
  const top = Math.max(...solid.slabs.map((s) => s.top));
  const stretch = (region: Region): { from: number; to: number } | null => {
    const box = regionBox(region);
    if (!box) return null;
    const ends = [dot(box.min, across), dot(box.max, across)];
    return { from: Math.min(...ends), to: Math.max(...ends) };
  };
  const whole = stretch(outline);
  if (!whole || solid.slabs.length === 0) return [];
  const heights: SideHeight[] = [{ feature: '', ...whole, bottom, top }];
  const say = (h: SideHeight): void => {
    const isNew = !heights.some(
      (k) => Math.abs(k.bottom - h.bottom) < SAME && Math.abs(k.top - h.top) < SAME,
    );
    if (isNew && h.top - h.bottom > SAME) heights.push(h);
  };
  for (const land of part.lands) {
    const region = landRegion(land);
    const over = region === null ? whole : stretch(intersection(outline, region));
    if (!over) continue;
    say({ feature: land.name, ...over, bottom: land.bottom, top: land.top });
    // A land that is flush with neither face needs to be told how high it lies.
    if (land.bottom > bottom + SAME && land.top < top - SAME) {
      say({ feature: land.name, ...over, bottom, top: land.bottom });
    }
  }
  return heights;
};
