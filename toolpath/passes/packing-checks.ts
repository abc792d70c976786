import type { Finding } from '../../sketch/part/part.ts';
import { placeFigure } from '../../sketch/part/units.ts';
import { contains } from '../../sketch/shape/region.ts';
import type { ViceHold } from '../route/route.ts';
import { placeOf, type Scene } from './scene.ts';
import { stockBetween, stockBox, type Workpiece } from './workpiece.ts';

/** Packing that cannot be put in: a piece for a slot that is not cut yet, a block where nothing lies. */
export const packingFindings = (scene: Scene, hold: ViceHold, work: Workpiece): readonly Finding[] => {
  const { min, max } = stockBox(work.stock);
  const gripped = stockBetween(work, min.z, min.z + hold.grip);
  const setup = scene.setup.number;
  const { unit } = scene.part;
  return (hold.packing ?? []).flatMap((piece): readonly Finding[] => {
    if (piece.kind === 'block') {
      const [from, to] = [piece.from - scene.frame.zero.x, piece.to - scene.frame.zero.x];
      if (to > min.x && from < max.x) return [];
      const message = `Setup ${setup}: no work lies over the block from X ${placeFigure(from, unit)} to ${placeFigure(to, unit)}.`;
      return [{ code: 'block-under-nothing', severity: 'error', setup, message }];
    }
    const along = piece.length / 2;
    const middle = placeOf(scene.frame, {
      x: piece.mouth.x + along * Math.cos(piece.direction),
      y: piece.mouth.y + along * Math.sin(piece.direction),
    });
    if (!contains(gripped, middle)) return [];
    return [
      {
        code: 'packing-no-slot',
        severity: 'error',
        setup,
        message: `Setup ${setup}: no piece goes into “${piece.fork}” yet: it is still to be cut when the vice is closed.`,
      },
    ];
  });
};
