import type { Stroke } from '../../sketch/canvas/ink.ts';
import type { Pen } from '../../sketch/canvas/pen.ts';
import type { Point } from '../../sketch/shape/point.ts';
import type { Segment } from '../../sketch/shape/segment.ts';
import type { PassKind } from '../passes/pass.ts';
import { type Stroke as Motion, strokeInPart } from '../removal/stroke.ts';
import type { Frame } from '../route/frame.ts';

const RAPID: Stroke = { role: 'ink', weight: 'hair', dash: 'rapid' };
const FEED: Stroke = { role: 'picked', weight: 'heavy' };
const RELEASE: Stroke = { role: 'picked', weight: 'release' };

/** A motion as it lies in the plan; null when it goes straight up or down. */
export const inPlan = (motion: Motion, frame: Frame): Segment | null => {
  const m = strokeInPart(motion, frame);
  if (m.kind === 'arc' && m.centre && m.sweep !== undefined) {
    return { kind: 'arc', from: m.from, to: m.to, centre: m.centre, sweep: m.sweep };
  }
  if (Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y) < 1e-6) return null;
  return { kind: 'line', from: m.from, to: m.to };
};

/** A pass's path: feed solid, rapids thin and dashed, a releasing pass heavy; straight plunges as dots. */
export const inkMoves = (pen: Pen, motions: readonly Motion[], frame: Frame, kind: PassKind): void => {
  let chain: Segment[] = [];
  let rapid = false;
  const flush = (): void => {
    if (chain.length > 0) pen.chain(chain, rapid ? RAPID : kind === 'release' ? RELEASE : FEED);
    chain = [];
  };
  for (const motion of motions) {
    const segment = inPlan(motion, frame);
    if (!segment) {
      if (motion.kind === 'feed' && motion.to.z < motion.from.z) {
        pen.dot(pen.at(strokeInPart(motion, frame).to), 3, 'picked');
      }
      continue;
    }
    if ((motion.kind === 'rapid') !== rapid) {
      flush();
      rapid = motion.kind === 'rapid';
    }
    chain.push(segment);
  }
  flush();
};

/** One motion picked out, with an arrowhead the way it goes and the cutter's circle at its end. */
export const inkPickedMove = (pen: Pen, motion: Motion, frame: Frame, diameter: number): void => {
  const segment = inPlan(motion, frame);
  const end = strokeInPart(motion, frame).to;
  if (segment) {
    pen.chain([segment], { role: 'warning', weight: 'release' });
    const tip = pen.at(segment.to);
    const before = pen.at(segment.from);
    if (segment.kind === 'line')
      pen.arrow(tip, Math.atan2(tip.y - before.y, tip.x - before.x), 'warning', 16);
  }
  inkCutter(pen, end, diameter);
};

/** The cutter where it stands, seen along the spindle. */
export const inkCutter = (pen: Pen, at: Point, diameter: number): void => {
  pen.circle(at, diameter / 2, { role: 'warning', weight: 'thin', dash: 'hidden' });
  pen.dot(pen.at(at), 4, 'warning');
};
