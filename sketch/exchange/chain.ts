import { add, cross, distance, dot, leftOf, midpoint, type Point, scale, subtract } from '../shape/point.ts';
import type { Contour, Path } from '../shape/region.ts';
import { arc, directionAlong, line, pointAlong, reverseSegment, type Segment } from '../shape/segment.ts';
import { SAME_POINT } from '../shape/tolerance.ts';

/** Ends of strokes nearer than this are joined, mm. */
export const JOIN_TOLERANCE = 0.01;
/** Where more strokes than this meet, no way on is smoother than another worth looking for. */
const MOST_WAYS = 8;

export interface Chains {
  readonly closed: readonly Contour[];
  readonly open: readonly Path[];
  /** Strokes that lie wholly on another one and were left out. */
  readonly doubles: number;
  /** Widest gap between ends that were joined, mm. */
  readonly widestGap: number;
}

interface Node {
  readonly point: Point;
  readonly ways: Way[];
}
interface Way {
  readonly stroke: number;
  /** Whether the stroke leaves the node from its start. */
  readonly ahead: boolean;
}

/**
 * Joins loose segments, drawn either way and in any order, end to end. Ends are looked up in a grid, so the time grows
 * with their number and not its square. Where several meet, the smoothest way on is taken.
 */
export const chainsOf = (segments: readonly Segment[], tolerance = JOIN_TOLERANCE): Chains => {
  const closed: Contour[] = [];
  const grid = new Map<string, Node[]>();
  const nodes: Node[] = [];
  const ends: (readonly [Node, Node] | null)[] = [];
  const seen = new Set<string>();
  let doubles = 0;
  let widestGap = 0;

  const nodeAt = (p: Point): Node => {
    const [i, j] = [Math.floor(p.x / tolerance), Math.floor(p.y / tolerance)];
    let best: Node | null = null;
    for (let di = -1; di <= 1; di++) {
      for (let dj = -1; dj <= 1; dj++) {
        for (const node of grid.get(`${i + di},${j + dj}`) ?? []) {
          const away = distance(node.point, p);
          if (away <= tolerance && (best === null || away < distance(best.point, p))) best = node;
        }
      }
    }
    if (best !== null) {
      widestGap = Math.max(widestGap, distance(best.point, p));
      return best;
    }
    const node = { point: p, ways: [] };
    nodes.push(node);
    const cell = grid.get(`${i},${j}`);
    if (cell) cell.push(node);
    else grid.set(`${i},${j}`, [node]);
    return node;
  };
  const numbers = new Map<Node, number>();
  const numberOf = (node: Node): number => {
    const known = numbers.get(node);
    if (known !== undefined) return known;
    numbers.set(node, numbers.size);
    return numbers.size - 1;
  };
  /** The same for two strokes that are one drawn twice, either way round. */
  const isDouble = (s: Segment, a: Node, b: Node): boolean => {
    const m = s.kind === 'arc' && a === b ? s.centre : pointAlong(s, 0.5);
    const [i, j] = [numberOf(a), numberOf(b)].sort((x, y) => x - y);
    const cell = (v: number, shift: number): number => Math.floor(v / (4 * tolerance) + shift);
    const keys = [0, 0.5].flatMap((dx) =>
      [0, 0.5].map((dy) => `${i} ${j} ${dx}${dy} ${cell(m.x, dx)} ${cell(m.y, dy)}`),
    );
    const known = keys.some((key) => seen.has(key));
    for (const key of keys) seen.add(key);
    return known;
  };

  segments.forEach((s, stroke) => {
    const [a, b] = [nodeAt(s.from), nodeAt(s.to)];
    if (isDouble(s, a, b)) {
      doubles += 1;
      ends.push(null);
    } else if (a === b && s.kind === 'arc' && Math.abs(s.sweep) > Math.PI) {
      closed.push({ segments: [{ ...s, to: s.from, sweep: s.sweep > 0 ? 2 * Math.PI : -2 * Math.PI }] });
      ends.push(null);
    } else if (a === b) ends.push(null);
    else {
      ends.push([a, b]);
      a.ways.push({ stroke, ahead: true });
      b.ways.push({ stroke, ahead: false });
    }
  });

  const used = ends.map((e) => e === null);
  const segmentOf = ({ stroke, ahead }: Way): Segment =>
    ahead ? segments[stroke]! : reverseSegment(segments[stroke]!);
  const wayOn = (node: Node, arriving: Segment | null): Way | null => {
    // Used ways are dropped as they are met, so that none is looked at for ever.
    for (let k = node.ways.length - 1; k >= 0 && k >= node.ways.length - MOST_WAYS; k--) {
      if (used[node.ways[k]!.stroke]) node.ways.splice(k, 1);
    }
    while (node.ways.length > 0 && used[node.ways[node.ways.length - 1]!.stroke]) node.ways.pop();
    const ways = node.ways.slice(-MOST_WAYS).filter((w) => !used[w.stroke]);
    if (arriving === null || ways.length < 2) return ways[0] ?? null;
    const along = directionAlong(arriving, 1);
    const smooth = (w: Way): number => dot(along, directionAlong(segmentOf(w), 0));
    return ways.reduce((best, w) => (smooth(w) > smooth(best) ? w : best));
  };

  const open: Path[] = [];
  const walk = (start: Node): void => {
    const chain: Segment[] = [];
    let here = start;
    for (;;) {
      const way = wayOn(here, chain[chain.length - 1] ?? null);
      if (way === null) break;
      used[way.stroke] = true;
      const [a, b] = ends[way.stroke]!;
      const there = way.ahead ? b : a;
      chain.push(between(segmentOf(way), here.point, there.point));
      here = there;
      if (here === start) break;
    }
    if (chain.length === 0) return;
    if (here === start) closed.push({ segments: chain });
    else open.push({ segments: chain });
  };
  // Open chains from their loose ends, then whatever is left round.
  for (const node of nodes) if (node.ways.length % 2 === 1) walk(node);
  for (const node of nodes) while (node.ways.some((w) => !used[w.stroke])) walk(node);
  return { closed, open, doubles, widestGap };
};

/** The segment with its ends moved a little; an arc keeps its centre as nearly as its new ends allow. */
export const between = (s: Segment, from: Point, to: Point): Segment => {
  if (s.kind === 'line') return line(from, to);
  const chord = subtract(to, from);
  const width = distance(from, to);
  if (width < SAME_POINT || (distance(s.from, from) === 0 && distance(s.to, to) === 0))
    return { ...s, from, to };
  const middle = midpoint(from, to);
  const normal = scale(leftOf(chord), 1 / width);
  const centre = add(middle, scale(normal, dot(subtract(s.centre, middle), normal)));
  const moved = arc(from, to, centre, s.sweep > 0);
  // An arc of nearly nothing or nearly a turn must not become the other.
  if (Math.abs(moved.sweep - s.sweep) > Math.PI || Math.abs(cross(chord, normal)) === 0)
    return line(from, to);
  return moved;
};
