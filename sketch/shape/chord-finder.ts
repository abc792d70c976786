import type { IntPoint } from 'clipper-lib';
import { isSameCurve } from './curve.ts';
import type { Chord } from './image.ts';
import type { Segment } from './segment.ts';

/** An edge of the image lies on a chord when both its ends are this near, in units: rounding moves each by one or two. */
const NEAR = 3;

/** Side of a square of the grid, in units: about as long as a chord of a small arc. */
const CELL = 4000;

/** A chord that lies in more squares than this is asked about every edge instead. */
const MOST_CELLS = 40;

/** The chord that an edge from one corner to the next lies on, the curve wished for first; null when there is none. */
export type ChordFinder = (a: IntPoint, b: IntPoint, wished: Segment | null) => Chord | null;

/** Finds the chord that an image edge lies on, through a coarse grid over all chords. */
export const chordFinder = (chords: readonly Chord[]): ChordFinder => {
  const grid = new Map<number, Chord[]>();
  const long: Chord[] = [];
  const key = (i: number, j: number): number => i * 1_000_003 + j;
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
        const k = key(i, j);
        const there = grid.get(k);
        if (there) there.push(chord);
        else grid.set(k, [chord]);
      }
    }
  }
  return (a, b, wished) => {
    const mx = (a.X + b.X) / 2;
    const my = (a.Y + b.Y) / 2;
    let best: Chord | null = null;
    let least = Number.POSITIVE_INFINITY;
    const consider = (chord: Chord): void => {
      const away = strayFrom(chord, a, b);
      if (away === null) return;
      // Of two chords that lie alike, the one whose curve is being followed already wins.
      const rank = away - (wished !== null && isSameCurve(chord.source, wished) ? 2 : 0);
      if (rank < least) {
        least = rank;
        best = chord;
      }
    };
    for (const chord of grid.get(key(Math.floor(mx / CELL), Math.floor(my / CELL))) ?? []) consider(chord);
    for (const chord of long) consider(chord);
    return best;
  };
};

/** How far the ends of an edge lie from a chord, summed, in units; null when either is not on it. */
const strayFrom = (chord: Chord, a: IntPoint, b: IntPoint): number | null => {
  const dx = chord.bx - chord.ax;
  const dy = chord.by - chord.ay;
  const length = Math.sqrt(dx * dx + dy * dy);
  if (length === 0) return null;
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
