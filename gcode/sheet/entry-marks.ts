import type { Box, Point } from '../../sketch/shape/point.ts';
import type { PlannedSetup } from '../../toolpath/passes/pass.ts';
import { block, letters } from './svg.ts';

/**
 * Where each milling job step first goes in, as its number in a square. Places beyond the drawing are shown at its
 * edge; squares that would lie on one another are moved aside. `letter` is the height of lettering, mm of the work.
 */
export const entryMarks = (planned: PlannedSetup, view: Box, letter: number): readonly string[] => {
  const side = letter * 1.35;
  const room = side / 2 + letter * 0.1;
  const within = (value: number, low: number, high: number): number =>
    Math.min(Math.max(value, low + room), high - room);
  const taken: Point[] = [];
  return planned.steps.flatMap((step, i) => {
    if (step.cutter.kind !== 'endmill') return [];
    const move = step.passes[0]?.moves.find((m) => m.kind === 'rapid');
    if (move === undefined) return [];
    let at: Point = {
      x: within(move.to.x, view.min.x, view.max.x),
      y: within(move.to.y, view.min.y, view.max.y),
    };
    const lies = (other: Point): boolean =>
      Math.abs(other.x - at.x) < side * 1.05 && Math.abs(other.y - at.y) < side * 1.05;
    while (taken.some(lies)) at = { x: at.x + side * 1.1, y: at.y };
    taken.push(at);
    const corner = (sign: 1 | -1): Point => ({ x: at.x + (sign * side) / 2, y: at.y + (sign * side) / 2 });
    return [block('balloon', corner(-1), corner(1)), letters(at, String(i + 1), letter * 0.9)];
  });
};
