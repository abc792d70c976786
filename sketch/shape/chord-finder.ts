import type { IntPoint } from 'clipper-lib';
import type { Chord } from './image.ts';

/** An edge of the image lies on a chord when both its ends are this near, in units: rounding moves each by one or two. */
const NEAR = 3;
/** Side of a cell of the grid, in units: somewhat longer than the chords of small arcs. */
const CELL = 4000;
/** A chord over more cells than this is kept aside and looked at every time. */
const MOST_CELLS = 40;

/** Knows where the chords of an image lie. */
export interface ChordFinder {
  /**
   * The chord that an edge lies on, or null. Most edges are a chord just as it was and are known by their ends; the
   * rest were cut or moved a unit or two where edges cross. Of chords that lie alike, one that is liked wins.
   */
  readonly under: (a: IntPoint, b: IntPoint, isLiked: (chord: Chord) => boolean) => Chord | null;
  /** An end of a chord that the edge runs over, the one nearest to its middle, or null. */
  readonly cornerUnder: (a: IntPoint, b: IntPoint) => IntPoint | null;
}

export const chordFinder = (chords: readonly Chord[]): ChordFinder => {
  const grid = new Map<number, Chord[]>();
  const long: Chord[] = [];
  for (const chord of chords) {
    const i0 = Math.floor((Math.min(chord.ax, chord.bx) - NEAR) / CELL);
    const i1 = Math.floor((Math.max(chord.ax, chord.bx) + NEAR) / CELL);
    const j0 = Math.floor((Math.min(chord.ay, chord.by) - NEAR) / CELL);
    const j1 = Math.floor((Math.max(chord.ay, chord.by) + NEAR) / CELL);
    if ((i1 - i0 + 1) * (j1 - j0 + 1) > MOST_CELLS) {
      long.push(chord);
      continue;
    }
    for (let i = i0; i <= i1; i++) {
      for (let j = j0; j <= j1; j++) {
        const there = grid.get(cellKey(i, j));
        if (there) there.push(chord);
        else grid.set(cellKey(i, j), [chord]);
      }
    }
  }
  const under: ChordFinder['under'] = (a, b, isLiked) => {
    const i = Math.floor((a.X + b.X) / 2 / CELL);
    const j = Math.floor((a.Y + b.Y) / 2 / CELL);
    let best: Chord | null = null;
    let least = Number.POSITIVE_INFINITY;
    const consider = (chord: Chord): void => {
      const away = strayFrom(chord, a, b);
      if (away === null) return;
      const rank = away - (isLiked(chord) ? 2 : 0);
      if (rank < least) {
        least = rank;
        best = chord;
      }
    };
    for (const chord of grid.get(cellKey(i, j)) ?? []) consider(chord);
    for (const chord of long) consider(chord);
    return best;
  };
  // Seldom asked for, so that no grid is kept for it.
  const cornerUnder: ChordFinder['cornerUnder'] = (a, b) => {
    const l = Math.hypot(b.X - a.X, b.Y - a.Y);
    let best: IntPoint | null = null;
    let least = l / 2 - NEAR;
    for (const { bx, by } of chords) {
      const along = ((bx - a.X) * (b.X - a.X) + (by - a.Y) * (b.Y - a.Y)) / l;
      const across = Math.abs((bx - a.X) * (b.Y - a.Y) - (by - a.Y) * (b.X - a.X)) / l;
      if (across > NEAR || Math.abs(along - l / 2) >= least) continue;
      least = Math.abs(along - l / 2);
      best = { X: bx, Y: by };
    }
    return best;
  };
  return { under, cornerUnder };
};

const cellKey = (i: number, j: number): number => i * 1_000_003 + j;

/** An edge that is the chord itself is the better match by this much, in units. */
const ITSELF = -4;

/** How far the ends of an edge lie from a chord, summed, in units; null when either is not on it. */
const strayFrom = (chord: Chord, a: IntPoint, b: IntPoint): number | null => {
  const { ax, ay, bx, by } = chord;
  if (a.X === ax && a.Y === ay && b.X === bx && b.Y === by) return ITSELF;
  if (a.X === bx && a.Y === by && b.X === ax && b.Y === ay) return ITSELF;
  const dx = bx - ax;
  const dy = by - ay;
  const length = Math.sqrt(dx * dx + dy * dy);
  const first = across(chord, dx / length, dy / length, length, a);
  if (first > NEAR) return null;
  const second = across(chord, dx / length, dy / length, length, b);
  return second > NEAR ? null : first + second;
};

/** How far a corner lies beside a chord of a direction and length; endlessly far when beyond its ends. */
const across = (chord: Chord, ux: number, uy: number, length: number, p: IntPoint): number => {
  const x = p.X - chord.ax;
  const y = p.Y - chord.ay;
  const along = x * ux + y * uy;
  return along < -NEAR || along > length + NEAR ? Number.POSITIVE_INFINITY : Math.abs(x * uy - y * ux);
};
