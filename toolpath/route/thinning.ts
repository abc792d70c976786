import { landRegion } from '../../sketch/part/cut-outs.ts';
import type { Finding, Land, Part, Unit } from '../../sketch/part/part.ts';
import { solidOf } from '../../sketch/part/solid.ts';
import { roundText } from '../../sketch/part/units.ts';
import { difference, intersection, union } from '../../sketch/shape/boolean.ts';
import { type Region, regionArea, regionBox } from '../../sketch/shape/region.ts';
import { leftBeside, millingTerms, thinningCutter } from './choose.ts';
import type { JobStep } from './route.ts';
import { noCutter, type Shop, STIFFEST, type Steps } from './shop.ts';

/** Stock that roughing leaves on the floor of a thinned land, mm. Common practice, no source. */
const FLOOR_ALLOWANCE = 0.2;

/** One job step for each height that lands are relieved to from a face, shallowest first. */
export const thinSteps = (shop: Shop, face: 'front' | 'back'): Steps => {
  const { part, profile, outline } = shop;
  const { bar } = part;
  const floors = new Map<number, string[]>();
  for (const land of part.lands) {
    const height = face === 'front' ? land.top : land.bottom;
    const relieved = face === 'front' ? height < bar.thickness - 1e-6 : height > 1e-6;
    if (relieved) floors.set(height, [...(floors.get(height) ?? []), land.name]);
  }
  const shallowFirst = [...floors.entries()].sort((a, b) => (face === 'front' ? b[0] - a[0] : a[0] - b[0]));
  const steps: JobStep[] = [];
  const findings: Finding[] = [];
  for (const [height, lands] of shallowFirst) {
    const depth = face === 'front' ? bar.thickness - height : height;
    const thick = thickBeside(part, height, face);
    const cutter = thinningCutter(profile, thick, depth, STIFFEST);
    if (!cutter) {
      findings.push(noCutter(`Thinning ${lands.join(', ')}`, depth, part.unit));
      continue;
    }
    const between = leftBeside(thick, cutter.diameter);
    findings.push(
      ...part.lands
        .filter((land) => lands.includes(land.name) && isMostlyIn(land, between, outline, thick))
        .map((land) => tooNarrow(land, depth, part.unit)),
    );
    const names = lands.join(' and ');
    const name = face === 'front' ? `relieve ${names}` : `thin ${names} from the back`;
    steps.push({
      kind: 'thin',
      engagement: null,
      name,
      cutter: cutter.name,
      lands,
      startFrom: holdingSide(part, outline, height, face),
      reach: shop.framed ? cutter.diameter : null,
      ...millingTerms(bar.material, cutter, FLOOR_ALLOWANCE),
    });
  }
  return { steps, findings };
};

/** Whether more than half of what is to be thinned of a land lies where the cutter does not get. */
const isMostlyIn = (land: Land, between: Region, outline: Region, thick: Region): boolean => {
  const own = landRegion(land);
  const thinned = difference(own === null ? outline : intersection(outline, own), thick);
  return regionArea(intersection(thinned, between)) > regionArea(thinned) / 2;
};

const tooNarrow = (land: Land, depth: number, unit: Unit): Finding => ({
  code: 'land-too-narrow',
  severity: 'error',
  feature: land.name,
  message: `Land “${land.name}”: no endmill in the machine profile that reaches ${roundText(depth, unit)} deep gets between the thick parts beside it but for a little; make it wider, or get a smaller endmill.`,
});

/** The side of the thick material that stays: there the work is held best. With none, the forked end's side. */
const holdingSide = (
  part: Part,
  outline: Region,
  height: number,
  face: 'front' | 'back',
): 'left' | 'right' => {
  const box = regionBox(outline)!;
  const middle = (box.min.x + box.max.x) / 2;
  let moment = 0;
  for (const contour of thickBeside(part, height, face).contours) {
    const own = regionBox({ contours: [contour] })!;
    moment += regionArea({ contours: [contour] }) * ((own.min.x + own.max.x) / 2 - middle);
  }
  if (Math.abs(moment) > 1e-6) return moment < 0 ? 'left' : 'right';
  const fork = part.forks[0];
  return fork && fork.mouth.x > middle ? 'right' : 'left';
};

/** What of the part, its cut-outs filled, stands beyond a height on a face: thinning goes round it. */
const thickBeside = (part: Part, height: number, face: 'front' | 'back'): Region => {
  const bare = solidOf({ ...part, holes: [], slots: [], forks: [] });
  const thick = bare.slabs.filter((s) =>
    face === 'front' ? s.top > height + 1e-6 : s.bottom < height - 1e-6,
  );
  return union(thick.map((slab) => slab.region));
};

/** Height of the lowest floor cut from the back, above the work's underside then, mm. */
export const lowestBackFloor = (part: Part, steps: readonly JobStep[]): number => {
  const { thickness } = part.bar;
  const lands = part.lands.filter((l) => l.bottom > 1e-6).map((l) => thickness - l.bottom);
  const outlines = steps.flatMap((s) => (s.kind === 'outline' ? [thickness - s.floor] : []));
  return Math.min(thickness, ...lands, ...outlines);
};
