import { difference, intersection, union } from '../shape/boolean.ts';
import { knownBy } from '../shape/known.ts';
import { isEmpty, NOTHING, type Region } from '../shape/region.ts';
import { SAME_POINT } from '../shape/tolerance.ts';
import { type CutOut, cutOutsOf, forkRegion, landRegion } from './cut-outs.ts';
import { outlineOf } from './outline.ts';
import type { Part } from './part.ts';

export { outlineOf } from './outline.ts';

/** A slice of the part in which nothing changes with height: the same region from `bottom` to `top`, mm. */
export interface Slab {
  readonly bottom: number;
  readonly top: number;
  readonly region: Region;
}

/**
 * The wanted part as a stack of slabs, lowest first, without gaps in height. Heights where the part has nothing at all
 * (a part relieved all over from one face) have no slab.
 */
export interface Solid {
  readonly slabs: readonly Slab[];
}

/** What stands at a height where so many of the part's lands do, forks taken out; slots and holes not yet. */
export type Bodies = (standing: readonly boolean[]) => Region;

/** A part's bodies, each worked out when it is first asked for. */
export const bodiesOf = (part: Part, outline: Region = outlineOf(part)): Bodies => {
  const { ends, arms, plates, lands, forks } = part;
  // A fork reaches out past all that the outline is made of.
  const objects = [outline, ...ends, ...arms, ...plates, ...lands, ...forks];
  const also = [ends, arms, plates, lands].map((list) => list.length).join(' ');
  return parts.of(objects, also, () => bodiesFrom(part, outline));
};

/** What makes the bodies is mostly what it was before an edit. */
const parts = knownBy<object, Bodies>();

const bodiesFrom = (part: Part, outline: Region): Bodies => {
  const lands = part.lands.map(landRegion);
  const forks = part.forks.flatMap((fork) => forkRegion(part, fork).contours);
  const known = new Map<string, Region>();

  const bodyAt = (standing: readonly boolean[]): Region => {
    let material: Region = outline;
    let full = true;
    lands.forEach((region, i) => {
      const stands = standing[i]!;
      if (region === null) {
        material = stands ? outline : NOTHING;
        full = stands;
      } else if (stands && !full) {
        const own = intersection(outline, region);
        material = isEmpty(material) ? own : union([material, own]);
      } else if (!stands && !isEmpty(material)) {
        material = difference(material, region);
        full = false;
      }
    });
    return difference(material, { contours: forks });
  };

  return (standing) => {
    const key = standing.map(Number).join('');
    const body = known.get(key) ?? bodyAt(standing);
    known.set(key, body);
    return body;
  };
};

/**
 * The finished part as slabs, with forks, slots, holes and lands cut. Tapped holes have their tap drill's diameter;
 * the cone a drill's point leaves under a blind hole is not part of it. `bodies` are the part's own, where they are known.
 */
export const solidOf = (part: Part, bodies?: Bodies): Solid => {
  const known = bodies === undefined ? solids.get(part) : undefined;
  if (known !== undefined) return known;
  const made = slabbed(part, bodies ?? bodiesOf(part));
  if (bodies === undefined) solids.set(part, made);
  return made;
};

/** Checks, planner, pictures and proof all ask for the solid of the one part. */
const solids = new WeakMap<Part, Solid>();

const slabbed = (part: Part, bodies: Bodies): Solid => {
  const cuts = cutOutsOf(part).filter((c) => c.kind !== 'fork');
  const heights = heightsOfChange(part, cuts);

  const slabs: Slab[] = [];
  let lastKey = '';
  for (let i = 0; i + 1 < heights.length; i++) {
    const bottom = heights[i]!;
    const top = heights[i + 1]!;
    const middle = (bottom + top) / 2;
    const standing = part.lands.map((land) => land.bottom < middle && middle < land.top);
    const cut = cuts.map((c) => c.bottom < middle && middle < c.top);
    const key = [...standing, ...cut].map(Number).join('');
    const last = slabs.at(-1);
    if (key === lastKey && last !== undefined && last.top === bottom) {
      slabs[slabs.length - 1] = { ...last, top };
      continue;
    }
    lastKey = key;
    const away = cuts.filter((_, j) => cut[j]).flatMap((c) => c.region.contours);
    const region = difference(bodies(standing), { contours: away });
    if (!isEmpty(region)) slabs.push({ bottom, top, region });
  }
  return { slabs };
};

/** Heights within the bar at which a slice may differ from the one below, rising, with the bar's two faces. */
const heightsOfChange = (part: Part, cuts: readonly CutOut[]): readonly number[] => {
  const thickness = part.bar.thickness;
  const all = [...part.lands, ...cuts].flatMap((c) => [c.bottom, c.top]);
  const inside = all.filter((z) => z > SAME_POINT && z < thickness - SAME_POINT).sort((a, b) => a - b);
  const heights = [0];
  for (const z of [...inside, thickness]) if (z - heights.at(-1)! > SAME_POINT) heights.push(z);
  return heights;
};
