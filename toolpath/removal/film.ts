import type { Cutter } from '../machine/cutter.ts';
import type { Frame } from '../route/frame.ts';
import { copyMap, type HeightMap } from './height-map.ts';
import type { Stroke } from './stroke.ts';
import { sweep } from './sweep.ts';

/** One motion with the cutter that makes it and the setup it is made in. */
export interface Cut {
  readonly stroke: Stroke;
  readonly cutter: Pick<Cutter, 'kind' | 'diameter' | 'pointAngle'>;
  readonly frame: Frame;
}

/** The work after each pass, cheaply in any order. */
export interface Film {
  /** Number of passes. */
  readonly length: number;
  /** The map after a number of passes, 0 (the bar) to `length`; the caller's own copy. Throws a RangeError beyond. */
  after(passes: number): HeightMap;
}

/** Memory that the kept frames of one film may fill, bytes. */
const MOST_MEMORY = 96e6;

/**
 * A film over passes (each a list of motions), starting from a map that is not changed. Frames are kept at even
 * spacing, as many as the memory allows, made when first asked for; what lies between is cut again from the frame
 * before it, and stepping forward cuts one pass only.
 */
export const film = (
  start: HeightMap,
  passes: readonly (readonly Cut[])[],
  memory: number = MOST_MEMORY,
): Film => {
  const bytes = start.top.byteLength + start.bottom.byteLength;
  const most = Math.max(1, Math.floor(memory / bytes) - 2);
  const spacing = Math.max(1, Math.ceil(passes.length / most));
  const kept = new Map<number, HeightMap>([[0, copyMap(start)]]);
  let current: { at: number; map: HeightMap } = { at: 0, map: copyMap(start) };
  return {
    length: passes.length,
    after: (count) => {
      if (!Number.isInteger(count) || count < 0 || count > passes.length) {
        throw new RangeError(`the film has ${passes.length} passes, not ${count}`);
      }
      let key = Math.floor(count / spacing) * spacing;
      while (!kept.has(key)) key -= spacing;
      if (current.at > count || current.at < key) current = { at: key, map: copyMap(kept.get(key)!) };
      while (current.at < count) {
        for (const cut of passes[current.at]!) sweep(current.map, cut.stroke, cut.cutter, cut.frame);
        current.at++;
        if (current.at % spacing === 0 && !kept.has(current.at)) {
          kept.set(current.at, copyMap(current.map));
        }
      }
      return copyMap(current.map);
    },
  };
};
