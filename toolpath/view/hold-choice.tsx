import type { Json } from '../../sketch/draft/json.ts';
import type { Part } from '../../sketch/part/part.ts';
import { solidOf } from '../../sketch/part/solid.ts';
import { union } from '../../sketch/shape/boolean.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { type Region, signedDistance } from '../../sketch/shape/region.ts';
import type { Edit } from '../../sketch/view/store.ts';
import { clampPlaces, SCREW_HEAD, screwPlaces } from '../route/plate.ts';
import { SCREW_THREADS, type Setup } from '../route/route.ts';
import { inUnit } from './work.ts';

interface HoldChoiceProps {
  readonly part: Part;
  readonly setup: Setup;
  readonly put: (path: readonly string[], value: Json | undefined) => Edit;
}

const WAYS = {
  vice: 'in the vice',
  tape: 'on a plate, taped and glued',
  screws: 'on a plate, screwed down',
  clamps: 'on a plate, under toe clamps',
} as const;
type Way = keyof typeof WAYS;

/** Room for a cutter between clamp and part that is tried for, mm; the widest first. */
const ROOMS = [12.5, 10.5, 8.5, 6.5, 4.5];

/** What holds the work in a setup; a plate begins with places that make sense, to be moved afterwards. */
export const HoldChoice = ({ part, setup, put }: HoldChoiceProps) => {
  const { hold, number } = setup;
  const way: Way = hold.kind === 'vice' ? 'vice' : hold.fastening.kind;
  const begin = (to: Way): Edit => {
    switch (to) {
      case 'vice':
        return put(['plate'], undefined);
      case 'tape':
        return put(['plate'], { kind: 'tape' });
      case 'screws':
        return put(['plate'], screwsFor(part, number));
      case 'clamps': {
        const far = farFrom(part);
        const places = ROOMS.map((room) => clampPlaces(part.bar, far, room)).find((p) => p.length > 0) ?? [];
        return put(['plate'], { kind: 'clamps', places: places.map((at) => placeIn(part, at)) });
      }
    }
  };
  return (
    <p class="sentence">
      Held{' '}
      <select
        class="choice"
        aria-label={`What holds setup ${number}`}
        value={way}
        onChange={(e) => begin(e.currentTarget.value as Way)}
      >
        {Object.entries(WAYS).map(([value, words]) => (
          <option key={value} value={value} selected={value === way}>
            {words}
          </option>
        ))}
      </select>
      .
    </p>
  );
};

export const placeIn = (part: Part, at: Point): { x: number; y: number } => ({
  x: inUnit(part, at.x),
  y: inUnit(part, at.y),
});

/** How far a place lies off the part, mm. */
const farFrom = (part: Part): ((at: Point) => number) => {
  const outline: Region = union(
    solidOf({ ...part, holes: [], slots: [], forks: [] }).slabs.map((s) => s.region),
  );
  return (at) => signedDistance(outline, at);
};

/** Screws that make sense to begin with: on the bar beside the part at first, later through the part's own holes. */
const screwsFor = (part: Part, setup: number): Json => {
  const far = farFrom(part);
  const beside = ROOMS.map((room) => screwPlaces(part.bar, far, room, 'M4')).find((p) => p.length > 0);
  if (setup === 1 && beside) {
    return { kind: 'screws', thread: 'M4', places: beside.map((at) => placeIn(part, at)) };
  }
  const through = part.holes.filter((hole) => hole.depth === null && hole.purpose !== 'counterbored');
  const fitting = SCREW_THREADS.map((thread) => {
    const { shank, head } = SCREW_HEAD[thread];
    const holes = through.filter((h) => h.diameter >= shank + 0.1 && h.diameter < head - 0.5);
    return { kind: 'screws', thread, holes: holes.map((h) => h.name) };
  });
  return (
    fitting.findLast((f) => f.holes.length >= 2) ?? fitting.find((f) => f.holes.length > 0) ?? fitting[0]!
  );
};
