import type { Point3 } from '../../sketch/shape/point.ts';
import { cellAt, type HeightMap } from '../../toolpath/removal/height-map.ts';
import { areaText, mm, type ProofFinding, placeText } from './finding.ts';
import type { Bridge, Leftover } from './leftover.ts';
import type { ProofInput } from './proof.ts';
import type { Reach } from './reach.ts';
import { FARTHEST } from './wall-faces.ts';
import type { WallExcess } from './walls.ts';

/** What stands proud, told in findings, with the largest figure of all and of each setup, mm. */
export interface ExcessReport {
  readonly findings: readonly ProofFinding[];
  readonly largest: number;
  readonly bySetup: readonly number[];
}

/** Beyond this many cells off a wall, material is seen by the map and told from there. */
const SEEN_BY_MAP = 3;
/** Places on a wall nearer together than this are one stretch, mm. */
const STRETCH = 1;
const MOST = 20;
export const excessFindings = (terms: {
  readonly input: ProofInput;
  readonly map: HeightMap;
  readonly walls: { readonly over: readonly WallExcess[]; readonly within: readonly WallExcess[] };
  readonly leftovers: readonly Leftover[];
  readonly reach: Reach;
}): ExcessReport => {
  const { input, map, walls, reach } = terms;
  const tolerance = input.tolerance.excess;
  const bySetup = input.setups.map(() => 0);
  const last = input.setups.length - 1;
  let largest = 0;
  const count = (amount: number, setup: number): void => {
    largest = Math.max(largest, amount);
    const k = setup < 0 ? last : setup;
    if (k >= 0) bySetup[k] = Math.max(bySetup[k]!, amount);
  };
  const findings: ProofFinding[] = [];

  // Within tolerance only the largest of each setup matters, less what an inner corner makes unavoidable.
  for (const place of [...walls.within].sort((a, b) => b.amount - a.amount)) {
    if (place.amount <= (bySetup[place.setup] ?? largest)) continue;
    count(place.amount - (reach.shortfall(place.slab, place.place) ?? 0), place.setup);
  }
  const proud: Proud[] = [];
  const corners: Proud[] = [];
  for (const place of walls.over) {
    const seen = place.amount > SEEN_BY_MAP * map.cell && standsInMap(map, place);
    const over = place.amount - (reach.shortfall(place.slab, place.place) ?? 0);
    if (over <= tolerance) corners.push({ ...place, left: place.amount });
    else if (!seen) proud.push({ ...place, left: over });
  }
  for (const { worst: place, length } of stretches(proud)) {
    count(place.left, place.setup);
    const along = length > STRETCH ? `, along about ${mm(length, 0)} mm of it` : '';
    const size = place.amount >= FARTHEST ? `${FARTHEST} mm or more` : `${mm(place.left, 3)} mm`;
    findings.push({
      code: 'wall-excess',
      message: `The cutters stop ${size} short of a wall at ${placeText(place.place)}, between Z ${mm(place.bottom)} and ${mm(place.top)}${along}.`,
      severity: 'error',
      ...setupOf(input, place.setup),
      at: { ...place.place, z: (place.bottom + place.top) / 2 },
    });
  }

  const cornerPatches = terms.leftovers.filter((l) => l.kind === 'corner');
  for (const place of apart(corners, 2 * (reach.radius ?? 1))) {
    const patch = cornerPatches.find(
      (l) => Math.hypot(l.at.x - place.place.x, l.at.y - place.place.y) < 2 * (reach.radius ?? 1),
    );
    findings.push({
      code: 'corner-not-reached',
      message: `No owned cutter reaches into the corner at ${placeText(place.place)}: ${mm(place.left)} mm is left there${patch === undefined ? '' : `, over ${areaText(patch.area)}`}. File it, or round it to ${mm(reach.radius ?? 0)} mm.`,
      severity: 'note',
      at: { ...place.place, z: (place.bottom + place.top) / 2 },
    });
  }

  const told = new Set<Bridge>();
  for (const left of [...terms.leftovers].sort((a, b) => b.amount - a.amount)) {
    const setup = setupFor(input, left);
    switch (left.kind) {
      case 'corner':
        break;
      case 'bridge': {
        // Fillets to either side make a bridge several patches of the map; it is one thing to saw.
        const bridge = nearestBridge(input, left.at);
        if (bridge !== undefined && told.has(bridge)) break;
        if (bridge !== undefined) told.add(bridge);
        findings.push({
          code: 'bridge-for-hand',
          message: `A bridge ${mm(left.amount)} mm thick is left for the saw and the file at ${placeText(left.at)}.`,
          severity: 'note',
          at: left.at,
        });
        break;
      }
      case 'web':
        count(left.amount, setup);
        findings.push({
          code: 'web-not-released',
          message: `A web ${mm(left.amount)} mm thick still stands at ${placeText(left.at)}, over ${areaText(left.area)}: nothing releases it.`,
          severity: 'error',
          ...setupOf(input, setup),
          at: left.at,
        });
        break;
      case 'floor':
        count(left.amount, setup);
        if (left.amount > tolerance) {
          findings.push({
            code: 'floor-excess',
            message: `The surface at ${placeText(left.at)} is ${mm(left.amount, 3)} mm too high, over ${areaText(left.area)}.`,
            severity: 'error',
            ...setupOf(input, setup),
            at: left.at,
          });
        }
        break;
      case 'material':
        count(left.amount, setup);
        if (left.amount > tolerance) {
          findings.push({
            code: 'material-left',
            message: `Material stands ${mm(left.amount)} mm proud of the part at ${placeText(left.at)}, over ${areaText(left.area)}.`,
            severity: 'error',
            ...setupOf(input, setup),
            at: left.at,
          });
        }
        break;
    }
  }
  return { findings: findings.slice(0, 4 * MOST), largest, bySetup };
};

const nearestBridge = (input: ProofInput, p: Point3): Bridge | undefined =>
  [...(input.bridges ?? [])].sort(
    (a, b) => Math.hypot(a.at.x - p.x, a.at.y - p.y) - Math.hypot(b.at.x - p.x, b.at.y - p.y),
  )[0];

const setupOf = (input: ProofInput, index: number): { readonly setup?: number } => {
  const setup = input.setups[index];
  return setup === undefined ? {} : { setup: setup.number };
};

/** The setup that should have taken it: the last with that face up, else the last. */
const setupFor = (input: ProofInput, left: Leftover): number => {
  const last = input.setups.length - 1;
  if (left.face === null) return last;
  const found = input.setups.findLastIndex((s) => s.frame.face === left.face);
  return found < 0 ? last : found;
};

const standsInMap = (map: HeightMap, place: WallExcess): boolean => {
  const z = (place.bottom + place.top) / 2;
  const off = (SEEN_BY_MAP - 1) * map.cell;
  const i = cellAt(map, place.place.x + place.outward.x * off, place.place.y + place.outward.y * off);
  return i >= 0 && map.top[i]! > z && map.bottom[i]! < z;
};

type Proud = WallExcess & { readonly left: number };

/** Places that follow each other, in the plan, as one stretch with its worst place and its extent; worst first. */
const stretches = (
  places: readonly Proud[],
): readonly { readonly worst: Proud; readonly length: number }[] => {
  const squares = new Map<string, Proud[]>();
  const square = (p: Proud): readonly [number, number] => [
    Math.floor(p.place.x / STRETCH),
    Math.floor(p.place.y / STRETCH),
  ];
  for (const p of places) {
    const key = square(p).join();
    squares.set(key, [...(squares.get(key) ?? []), p]);
  }
  const found: { readonly worst: Proud; readonly length: number }[] = [];
  const open = new Set(squares.keys());
  for (const start of squares.keys()) {
    if (!open.delete(start)) continue;
    const keys = [start];
    for (let k = 0; k < keys.length; k++) {
      const [i, j] = keys[k]!.split(',').map(Number) as [number, number];
      for (const next of [-1, 0, 1].flatMap((a) => [-1, 0, 1].map((b) => `${i + a},${j + b}`))) {
        if (open.delete(next)) keys.push(next);
      }
    }
    const all = keys.flatMap((key) => squares.get(key)!);
    const worst = all.reduce((a, b) => (b.left > a.left ? b : a));
    const xs = all.map((p) => p.place.x);
    const ys = all.map((p) => p.place.y);
    const extent = (v: readonly number[]): number =>
      v.reduce((a, b) => Math.max(a, b)) - v.reduce((a, b) => Math.min(a, b));
    found.push({ worst, length: Math.hypot(extent(xs), extent(ys)) });
  }
  return found.sort((a, b) => b.worst.left - a.worst.left).slice(0, MOST);
};

/** The worst of every neighbourhood, worst first. */
const apart = (places: readonly Proud[], gap: number): readonly Proud[] => {
  const kept: Proud[] = [];
  for (const place of [...places].sort((a, b) => b.left - a.left)) {
    if (kept.length >= MOST) break;
    const near = kept.some((k) => Math.hypot(k.place.x - place.place.x, k.place.y - place.place.y) < gap);
    if (!near) kept.push(place);
  }
  return kept;
};
