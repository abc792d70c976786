import ClipperLib from 'clipper-lib';
import { type PlannedPart, planPart, proofInput, writePrograms } from '../../gcode/chain.ts';
import { proofMemory } from '../../gcode/proof/proof-memory.ts';
import { prove } from '../../gcode/proof/prove.ts';
import { readProgram } from '../../gcode/reading/read.ts';
import { outlineOf, solidOf } from '../../sketch/part/solid.ts';
import { imageOf } from '../../sketch/shape/image.ts';
import { perimeter } from '../../sketch/shape/region.ts';
import { CHORD_TOLERANCE, IMAGE_SCALE } from '../../sketch/shape/tolerance.ts';
import { type PlanMemory, planMemory } from '../../toolpath/passes/plan-memory.ts';
import { filmKeeper } from '../../toolpath/removal/film.ts';
import { barMap, chooseCell } from '../../toolpath/removal/height-map.ts';
import { sampleText } from '../samples.ts';
import { besides, best, type Row, time } from './row.ts';

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

/** How often the cutter goes round: the length of its feeds over that of the outline, at least once a pass. */
const roundsOf = ({ part, plan }: PlannedPart): number => {
  const once = perimeter(outlineOf(part));
  const passes = plan.setups.flatMap((s) => s.steps).filter((s) => s.cutter.kind === 'endmill');
  return passes
    .flatMap((s) => s.passes)
    .reduce((sum, { moves }) => {
      let at = { x: 0, y: 0 };
      let length = 0;
      for (const m of moves) {
        if (m.kind === 'drill' || m.kind === 'stop') continue;
        if (m.kind !== 'rapid') length += Math.hypot(m.to.x - at.x, m.to.y - at.y);
        at = m.to;
      }
      return sum + Math.max(1, Math.round(length / once));
    }, 0);
};

export default function* (): Generator<Row> {
  const sizes = [4.2, 4.4];
  const kept = memories();
  const memory = kept.plans;
  let turn = 0;
  const edit = (): void => shownAndProven(planned(withHole(sizes[turn++ % 2]!), memory), kept);
  const first = planned(sampleText(SAMPLE));
  const rounds = roundsOf(first);
  const { paths } = imageOf(outlineOf(first.part).contours);
  const bare = (): void => {
    for (let k = 1; k <= rounds; k++) {
      const tool = new ClipperLib.ClipperOffset(2, CHORD_TOLERANCE * IMAGE_SCALE);
      tool.AddPaths(paths, ClipperLib.JoinType.jtRound, ClipperLib.EndType.etClosedPolygon);
      tool.Execute([], (3 + 0.02 * k) * IMAGE_SCALE);
    }
  };
  // Sizes not met before, so that the memory knows only what the edit does not concern.
  const fresh = (): void => {
    sizes[turn % 2] = 3.5 + 0.1 * (turn % 9);
    edit();
  };
  besides(4, fresh, bare);
  const [ours, theirs] = besides(8, fresh, bare);
  yield {
    name: `edit: a hole of ${SAMPLE} to all layers and the proof, to clipper-lib’s bare offsets of ${rounds} rounds`,
    ours: time(ours),
    baseline: time(theirs),
    ratio: ours / theirs,
    goal: '≤ 3',
  };
  const counts = () => kept.films.counts.swept + kept.proofs.counts.cut;
  const before = counts();
  fresh();
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
  const [again, anew] = besides(
    8,
    () => planned(withHole(sizes[turn++ % 2]!), memory),
    () => planned(withHole(sizes[turn++ % 2]!)),
  );
  yield {
    name: 'edit: planning a state that is known, to planning it anew',
    ours: time(again),
    baseline: time(anew),
    ratio: again / anew,
  };
  const plan = best(5, () => planned(withHole(3.5 + 0.1 * (turn++ % 9)), planMemory()));
  yield {
    name: 'edit: planning alone with nothing known, to the whole edit',
    ours: time(plan),
    baseline: time(ours),
    ratio: plan / ours,
  };
}
