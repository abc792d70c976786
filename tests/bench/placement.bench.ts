import { fitBox, panBy, type Viewport } from '../../sketch/canvas/camera.ts';
import { placedDimensions } from '../../sketch/canvas/draw-dimensions.ts';
import { sideViewOf } from '../../sketch/part/side-view.ts';
import { outlineOf, solidOf } from '../../sketch/part/solid.ts';
import { SAMPLES, samplePart } from '../samples.ts';
import { type Row, time } from './row.ts';

// What placing a drawing's measures costs, and a side view, against working out the part's slabs in the same run.

const WINDOW: Viewport = {
  width: 1440,
  height: 900,
  covered: { left: 22, top: 178, right: 458, bottom: 338 },
};
const ROUNDS = 80;

const middle = (times: readonly number[]): number =>
  [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)]!;

export default function* (): Generator<Row> {
  for (const name of SAMPLES) {
    const part = samplePart(name);
    const outline = outlineOf(part);
    const solid = solidOf(part);
    const { bar } = part;
    const far = { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width };
    const camera = fitBox({ min: bar.corner, max: far }, WINDOW, false, 0);
    const place = (c: typeof camera, only?: readonly string[]) =>
      placedDimensions(
        c,
        WINDOW,
        { part, outline },
        { widthOf: (t) => 7 * t.length, ...(only ? { only } : {}) },
      );
    const timed = (work: (round: number) => unknown): number =>
      middle(
        Array.from({ length: ROUNDS }, (_, round) => {
          const start = performance.now();
          work(round);
          return performance.now() - start;
        }),
      );
    const slabs = timed(() => solidOf(part));
    const first = part.ends[0]?.name ?? '';
    const rows = {
      'all measures, at a new scale': timed((i) =>
        place({ ...camera, scale: camera.scale * (1 + i * 1e-4) }),
      ),
      'all measures, pushed along': timed((i) => place(panBy({ ...camera, scale: camera.scale * 2 }, i, i))),
      'one feature’s, as in a drag': timed((i) =>
        place({ ...camera, scale: camera.scale * (3 + i * 1e-4) }, [first]),
      ),
      'seen from the edge': timed(() => sideViewOf(solid, 'lower edge')),
    };
    for (const [what, ms] of Object.entries(rows)) {
      yield {
        name: `placement: ${name}, ${what}, to its slabs`,
        ours: time(ms / 1000),
        baseline: time(slabs / 1000),
        ratio: ms / slabs,
      };
    }
  }
}
