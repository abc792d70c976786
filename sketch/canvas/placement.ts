import { type Point, subtract } from '../shape/point.ts';
import {
  crosses,
  meet,
  onWhatIsEnclosed,
  type Patch,
  patchAt,
  runsAlong,
  type Stroke,
  strikes,
} from './patch.ts';
import { type Trial, trialsOf } from './trials.ts';

/** A dimension as it is to be inked, all in pixels; angles are radians on the screen, where Y runs down. */
export interface Placed {
  readonly feature: string;
  readonly lines: readonly Stroke[];
  readonly arcs: readonly {
    readonly centre: Point;
    readonly radius: number;
    readonly from: number;
    readonly sweep: number;
  }[];
  readonly arrows: readonly { readonly tip: Point; readonly direction: number }[];
  readonly dot: Point | null;
  /** `turn` in degrees, clockwise on the screen, about the middle `at`. */
  readonly label: {
    readonly at: Point;
    readonly text: string;
    readonly turn: number;
    readonly width: number;
  };
}

/** A dimension with its places already in pixels. */
export type Asked =
  | {
      readonly kind: 'linear';
      readonly feature: string;
      readonly from: Point;
      readonly to: Point;
      readonly along: Point;
      readonly text: string;
      readonly overall?: boolean;
    }
  | {
      readonly kind: 'angle';
      readonly feature: string;
      readonly vertex: Point;
      readonly from: number;
      readonly sweep: number;
      readonly legs: readonly [number, number];
      readonly text: string;
    }
  | {
      readonly kind: 'note';
      readonly feature: string;
      readonly at: Point;
      readonly radius: number;
      readonly toward: number | null;
      readonly edges: readonly (readonly [number, number])[] | null;
      readonly hollow?: boolean;
      readonly text: string;
    };

export interface Room {
  /** The part's outline as a closed chain of pixels. */
  readonly outline: readonly Point[];
  /** Places already taken on the sheet, as middles of squares of 34 pixels. */
  readonly kept: readonly Point[];
  /** Lines already on the sheet that lettering had better not stand on. */
  readonly lines: readonly Stroke[];
  /** The part of the window where lettering may stand. */
  readonly free: Patch;
  /** Width of a text, pixels. */
  readonly widthOf: (text: string) => number;
}

const OVERLAP = 4000;
const OFF_SHEET = 3000;
const ON_PART = 700;
const LINE_OVER_LABEL = 900;
const CROSSING = 160;
const ON_LINE = 120;

interface Taken {
  readonly patches: Patch[];
  readonly strokes: Stroke[];
  readonly hairs: Stroke[];
}

/** What a place may cost beyond what it costs on an empty sheet before a better one is looked for. */
const TROUBLED = 400;

/**
 * Finds a place for every dimension, one after another, each where it collides least with those already there, with
 * the part, and with the edge of the free sheet. Angles come first, for they have least choice; then lengths, the
 * short ones nearest to the part; the overall sizes outside them; notes last. Whoever then has come to stand under
 * something later looks for a place once more. The answers stand in the order they were asked for, and the same input
 * always gives the same drawing.
 */
export const placeDimensions = (asked: readonly Asked[], room: Room): readonly Placed[] => {
  const kept = room.kept.map((at) => patchAt(at, 34, 34));
  const onPart = onWhatIsEnclosed(room.outline);
  const chosen: (Trial | null)[] = asked.map(() => null);
  const others = (index: number): Taken => {
    const taken: Taken = { patches: [...kept], strokes: [], hairs: [...room.lines] };
    chosen.forEach((trial, i) => {
      if (!trial || i === index) return;
      taken.patches.push(...trial.patches);
      taken.strokes.push(...trial.crossable);
      taken.hairs.push(...trial.placed.lines.filter((l) => !trial.crossable.includes(l)));
    });
    return taken;
  };
  const order = asked.map((a, index) => ({ a, index, rank: rankOf(a), span: spanOf(a) }));
  order.sort((p, q) => p.rank - q.rank || p.span - q.span || p.index - q.index);
  for (const { a, index } of order) {
    chosen[index] = cheapest(trialsOf(a, room), others(index), room.free, onPart);
  }
  for (const { a, index } of order) {
    const now = chosen[index]!;
    const taken = others(index);
    const cost = costOf(now, taken, room.free, onPart, Number.POSITIVE_INFINITY);
    if (cost - now.cost < TROUBLED) continue;
    chosen[index] = cheapest(trialsOf(a, room), taken, room.free, onPart);
  }
  return chosen.map((trial) => trial!.placed);
};

const cheapest = (
  trials: Iterable<Trial>,
  taken: Taken,
  free: Patch,
  onPart: (b: Patch) => boolean,
): Trial => {
  let best: { cost: number; trial: Trial } | null = null;
  for (const trial of trials) {
    if (best && trial.cost >= best.cost) continue;
    const cost = costOf(trial, taken, free, onPart, best?.cost ?? Number.POSITIVE_INFINITY);
    if (!best || cost < best.cost) best = { cost, trial };
  }
  return best!.trial;
};

const rankOf = (a: Asked): number => {
  switch (a.kind) {
    case 'angle':
      return 0;
    case 'linear':
      return a.overall ? 2 : 1;
    case 'note':
      return 3;
  }
};

const spanOf = (a: Asked): number => {
  if (a.kind !== 'linear') return 0;
  const d = subtract(a.to, a.from);
  return Math.abs(d.x * a.along.x + d.y * a.along.y);
};

/** What a trial costs, or something not below `limit` as soon as that is certain. */
const costOf = (
  t: Trial,
  taken: Taken,
  free: Patch,
  onPart: (b: Patch) => boolean,
  limit: number,
): number => {
  let cost = t.cost;
  for (const p of t.patches) {
    if (p.min.x < free.min.x || p.max.x > free.max.x || p.min.y < free.min.y || p.max.y > free.max.y) {
      cost += OFF_SHEET;
    }
    for (const q of taken.patches) if (meet(p, q)) cost += OVERLAP;
    for (const s of taken.strokes) if (strikes(s, p)) cost += LINE_OVER_LABEL;
    if (cost >= limit) return cost;
    for (const s of taken.hairs) if (strikes(s, p)) cost += ON_LINE;
    if (cost < limit && onPart(p)) cost += ON_PART;
    if (cost >= limit) return cost;
  }
  for (const s of t.crossable) {
    for (const q of taken.patches) if (strikes(s, q)) cost += LINE_OVER_LABEL;
    for (const r of taken.strokes) cost += crosses(s, r) ? CROSSING : runsAlong(s, r) ? OVERLAP : 0;
    if (cost >= limit) return cost;
  }
  return cost;
};
