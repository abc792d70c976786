import ClipperLib from 'clipper-lib';
import { type PlannedPart, planPart, proofInput, writePrograms } from '../../gcode/chain.ts';
import { proofMemory } from '../../gcode/proof/proof-memory.ts';
import { prove } from '../../gcode/proof/prove.ts';
import type { Motion } from '../../gcode/reading/motion.ts';
import { readProgram } from '../../gcode/reading/read.ts';
import { solidOf } from '../../sketch/part/solid.ts';
import { imageOf } from '../../sketch/shape/image.ts';
import { type Region, signedDistance } from '../../sketch/shape/region.ts';
import { pointAlong, type Segment, segmentLength } from '../../sketch/shape/segment.ts';
import { CHORD_TOLERANCE, IMAGE_SCALE } from '../../sketch/shape/tolerance.ts';
import { type PlanMemory, planMemory } from '../../toolpath/passes/plan-memory.ts';
import { filmKeeper } from '../../toolpath/removal/film.ts';
import { barMap, chooseCell } from '../../toolpath/removal/height-map.ts';
import { sampleText } from '../samples.ts';
import { besides, best, type Row, time } from './row.ts';
import { wallsOf } from './walls.ts';

/** The largest sample, a hole of it given another size: from the file's text to all layers and the proof. */
const SAMPLE = 'damper-yoke';

const withHole = (diameter: number): string => {
  const document = JSON.parse(sampleText(SAMPLE));
  document.holes[0].diameter = diameter;
  return JSON.stringify(document);
};

const planned = (text: string, memory?: PlanMemory): PlannedPart => {
  const made = planPart(text, memory ? { memory } : {});
  if (!made.ok) throw new Error('the sample is refused');
  return made;
};

/** What the page's workers keep from one edit to the next. */
const memories = () => ({ plans: planMemory(), films: filmKeeper(), proofs: proofMemory() });
type Memories = ReturnType<typeof memories>;

/** Every layer's stock and the proof. */
const shownAndProven = ({ part, plan, profile }: PlannedPart, { films, proofs }: Memories): void => {
  const programs = writePrograms(part, plan, profile);
  const cutters = new Map(profile.cutters.map((c) => [c.number, c]));
  const cuts = plan.setups.flatMap(({ frame }, i) => {
    const reading = readProgram(programs[i]!.text);
    return reading.labels.map((_, label) =>
      reading.motions
        .filter((m) => m.label === label)
        .map((stroke) => ({ stroke, cutter: cutters.get(stroke.tool)!, frame })),
    );
  });
  const layers = films.film(barMap(part.bar, Math.max(0.1, chooseCell(part.bar, solidOf(part)))), cuts);
  for (let k = 1; k <= layers.length; k++) layers.at(k);
  prove(proofInput(part, plan, programs, profile), proofs);
};

/** A lap that is a contour moved sideways: clipper-lib's image of what it runs along, and how far, mm. */
interface BareLap {
  readonly paths: ReturnType<typeof imageOf>['paths'];
  readonly away: number;
}

/** Ways shorter than this at one distance from a wall are leads and corners, no laps, mm. */
const LEAST_LAP = 2;

/**
 * The laps of all passes of a part, level by level: each distance from its walls at which an endmill goes along them in
 * a pass. Round the part, laps are the part's bare shape moved outward; in a fork, slot or counterbore they are the
 * opening's own shape moved inward. Not counted is what no offset gives: straight strokes, leads, ways in and across.
 *
 * There are 32, as many as the feed's length makes of the outline's. These were all held to be the outline moved
 * outward, though 14 of them lie inside openings.
 */
const bareLaps = ({ part, plan, profile, route }: PlannedPart): readonly BareLap[] => {
  const steps = new Map(route.setups.flatMap((s) => s.steps.map((step) => [step.name, step] as const)));
  const programs = writePrograms(part, plan, profile);
  return plan.setups.flatMap((setup, k) => {
    const { motions } = readProgram(programs[k]!.text);
    let label = 0;
    return setup.steps.flatMap(({ step, cutter, passes }) => {
      const first = label;
      label += passes.length;
      if (cutter.kind !== 'endmill') return [];
      const floor = Math.min(...passes.map((pass) => pass.z));
      const { shape } = wallsOf(
        part,
        step.kind === 'release' ? steps.get(step.of)! : step,
        setup.frame,
        floor,
      );
      const { paths } = imageOf(shape.contours);
      return passes.flatMap((_, n) =>
        distancesFrom(
          shape,
          motions.filter((m) => m.label === first + n),
        ).map((away) => ({ paths, away })),
      );
    });
  });
};

/** Distances from a shape, less than nothing inside, that are kept over some length under feed. */
const distancesFrom = (shape: Region, motions: readonly Motion[]): readonly number[] => {
  const lengths = new Map<number, number>();
  for (const { kind, from, to, centre, sweep } of motions) {
    if (kind === 'rapid' || Math.abs(from.z - to.z) > 1e-6) continue;
    const segment: Segment =
      kind === 'arc' && centre && sweep !== undefined
        ? { kind: 'arc', from, to, centre, sweep }
        : { kind: 'line', from, to };
    const all = [0.25, 0.5, 0.75].map((t) => signedDistance(shape, pointAlong(segment, t)));
    if (Math.max(...all) - Math.min(...all) > 0.01) continue;
    const away = Math.round(50 * all[1]!) / 50;
    lengths.set(away, (lengths.get(away) ?? 0) + segmentLength(segment));
  }
  return [...lengths].flatMap(([away, length]) => (length > LEAST_LAP && away !== 0 ? [away] : []));
};

export default function* (): Generator<Row> {
  const first = planned(sampleText(SAMPLE));
  const laps = bareLaps(first);
  const bare = (): void => {
    for (const { paths, away } of laps) {
      const tool = new ClipperLib.ClipperOffset(2, CHORD_TOLERANCE * IMAGE_SCALE);
      tool.AddPaths(paths, ClipperLib.JoinType.jtRound, ClipperLib.EndType.etClosedPolygon);
      tool.Execute([], away * IMAGE_SCALE);
    }
  };
  // Each size is one that was never met, and there is a drill for it: what the memory knows of steps is only what the
  // edit does not concern.
  const kept = memories();
  let next = 30;
  const edit = (): void => {
    if (next > 65) throw new Error('no more sizes');
    shownAndProven(planned(withHole(next++ / 10), kept.plans), kept);
  };
  besides(8, edit, bare);
  const [ours, theirs] = besides(16, edit, bare);
  yield {
    name: `edit: a hole of ${SAMPLE} to all layers and the proof, to clipper-lib’s bare offsets of its ${laps.length} laps`,
    ours: time(ours),
    baseline: time(theirs),
    ratio: ours / theirs,
    goal: '≤ 3',
  };
  const counts = () => kept.films.counts.swept + kept.proofs.counts.cut;
  const before = counts();
  edit();
  const touched = counts() - before;
  const none = memories();
  shownAndProven(planned(withHole(4)), none);
  const every = none.films.counts.swept + none.proofs.counts.cut;
  yield {
    name: 'edit: strokes cut again for layers and proof, of all strokes',
    ours: String(touched),
    baseline: String(every),
    ratio: touched / every,
  };
  let turn = 0;
  const sizes = [4.2, 4.4];
  const two = planMemory();
  const [again, anew] = besides(
    8,
    () => planned(withHole(sizes[turn++ % 2]!), two),
    () => planned(withHole(sizes[turn++ % 2]!)),
  );
  yield {
    name: 'edit: planning a state that is known, to planning it anew',
    ours: time(again),
    baseline: time(anew),
    ratio: again / anew,
  };
  const plan = best(5, () => planned(withHole(sizes[turn++ % 2]!), planMemory()));
  yield {
    name: 'edit: planning alone with nothing known, to the whole edit',
    ours: time(plan),
    baseline: time(ours),
    ratio: plan / ours,
  };
}
