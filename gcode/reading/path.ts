import type { Point3 } from '../../sketch/shape/point.ts';
import type { Motion } from './motion.ts';

/** Radius at the start and at the end of an arc; they differ by no more than the standard's tolerance in a sound program. */
const radii = (m: Motion, centre: { x: number; y: number }): readonly [number, number] => [
  Math.hypot(m.from.x - centre.x, m.from.y - centre.y),
  Math.hypot(m.to.x - centre.x, m.to.y - centre.y),
];

/** Length of the path of the cutter's tip, mm; of a helix, along it. */
export const motionLength = (m: Motion): number => {
  const dz = m.to.z - m.from.z;
  if (m.centre === undefined || m.sweep === undefined) {
    return Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y, dz);
  }
  const [start, end] = radii(m, m.centre);
  return Math.hypot(((start + end) / 2) * m.sweep, dz);
};

/** Time a motion takes at its feed, or at `rapid` mm/min, s. A feed motion without a feed takes no time: it is a fault. */
export const motionTime = (m: Motion, rapid: number): number => {
  const feed = m.kind === 'rapid' ? rapid : m.feed;
  return feed > 0 ? (motionLength(m) / feed) * 60 : 0;
};

/** The place a share `t` (0 to 1) of the way along; the ends are met exactly even where an arc's radii differ. */
export const placeAlong = (m: Motion, t: number): Point3 => {
  if (t <= 0) return m.from;
  if (t >= 1) return m.to;
  const z = m.from.z + (m.to.z - m.from.z) * t;
  if (m.centre === undefined || m.sweep === undefined) {
    return { x: m.from.x + (m.to.x - m.from.x) * t, y: m.from.y + (m.to.y - m.from.y) * t, z };
  }
  const [start, end] = radii(m, m.centre);
  const radius = start + (end - start) * t;
  const angle = Math.atan2(m.from.y - m.centre.y, m.from.x - m.centre.x) + m.sweep * t;
  return { x: m.centre.x + radius * Math.cos(angle), y: m.centre.y + radius * Math.sin(angle), z };
};
