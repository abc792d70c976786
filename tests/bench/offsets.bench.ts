import ClipperLib from 'clipper-lib';
import { outlineOf } from '../../sketch/part/solid.ts';
import { imageOf } from '../../sketch/shape/image.ts';
import { offset, offsets } from '../../sketch/shape/offset.ts';
import { isEmpty, type Region } from '../../sketch/shape/region.ts';
import { CHORD_TOLERANCE, IMAGE_SCALE } from '../../sketch/shape/tolerance.ts';
import { SAMPLES, samplePart } from '../samples.ts';
import { besides, type Row, time } from './row.ts';

const COUNT = 20;

/** Twenty steps inward that just leave something. */
const stepOf = (outline: Region): number => {
  let [fits, empties] = [0, 100];
  while (empties - fits > 1e-3) {
    const middle = (fits + empties) / 2;
    if (isEmpty(offset(outline, -middle))) empties = middle;
    else fits = middle;
  }
  return fits / (COUNT + 1);
};

/** The same outline in chords, each offset by clipper-lib from the outline itself, arcs as fine as ours. */
const byClipper = (paths: ReturnType<typeof imageOf>['paths'], step: number): void => {
  for (let k = 1; k <= COUNT; k++) {
    const tool = new ClipperLib.ClipperOffset(2, CHORD_TOLERANCE * IMAGE_SCALE);
    tool.AddPaths(paths, ClipperLib.JoinType.jtRound, ClipperLib.EndType.etClosedPolygon);
    tool.Execute([], -k * step * IMAGE_SCALE);
  }
};

/** Twenty laps inward of each sample's outline. */
export default function* (): Generator<Row> {
  for (const name of SAMPLES) {
    const outline = outlineOf(samplePart(name));
    const step = stepOf(outline);
    const { paths } = imageOf(outline.contours);
    const work = () => offsets(outline, -step, COUNT);
    const other = () => byClipper(paths, step);
    besides(3, work, other);
    const [ours, theirs] = besides(15, work, other);
    yield {
      name: `offsets: ${COUNT} inward of ${name}’s outline, times as fast as clipper-lib’s`,
      ours: time(ours),
      baseline: time(theirs),
      ratio: theirs / ours,
      goal: '≥ 4',
    };
  }
}
