import type { Point, Point3 } from '../../sketch/shape/point.ts';
import type { Label, Motion, Reading } from '../reading/motion.ts';
import type { ReadRow } from './read-table.ts';

/**
 * What a person at the machine does with the rows of one setup, in order: lifts clear to `clear` (mm over Z zero),
 * goes across, down, along by one handwheel and the other, round, drills. `places` are where the slides truly stand
 * for each row – the last of each is the row's own place – as read from the readout or reckoned from the dials.
 */
export const handMotions = (
  rows: readonly ReadRow[],
  clear: number,
  places: readonly SlidePlaces[],
): Reading => {
  const motions: Motion[] = [];
  const labels: Label[] = [];
  const stops: { line: number; kind: 'stop'; tool: number }[] = [];
  const kinds = kindsOf(rows);
  let here: Point3 | null = null;
  let last = '';
  rows.forEach((row, i) => {
    const { line, tool, speed, feed } = row;
    const label = `${row.step}/${row.pass}`;
    if (label !== last) labels.push({ line, step: row.step, pass: `${row.pass} ${kinds[i]}` });
    last = label;
    const go = (kind: 'rapid' | 'feed', to: Point3, more: Pick<Motion, 'centre' | 'sweep'> = {}): void => {
      const from = here ?? { ...to, z: clear };
      here = to;
      const arc = more.centre !== undefined;
      motions.push({
        ...{ from, to, tool, speed, line, label: labels.length - 1 },
        kind: arc ? 'arc' : kind,
        feed: kind === 'rapid' ? 0 : feed,
        ...more,
      });
    };
    // The cutter before is lifted out before the next one is put in.
    const lift = (): void => {
      if (here === null) return;
      const from: Point3 = here;
      here = { ...from, z: clear };
      const before = motions.at(-1)!;
      motions.push({ ...before, kind: 'rapid', from, to: here, feed: 0, line });
    };
    const { x: xs, y: ys, z } = places[i]!;
    const at: Point3 = { x: xs.at(-1)!, y: ys.at(-1)!, z };
    switch (row.way) {
      case 'stop':
        lift();
        stops.push({ line, kind: 'stop', tool });
        break;
      case 'enter':
      case 'drill': {
        lift();
        for (const x of xs) go('rapid', { x, y: (here as Point3 | null)?.y ?? at.y, z: clear });
        for (const y of ys) go('rapid', { x: at.x, y, z: clear });
        go('feed', at);
        if (row.way === 'drill') go('rapid', { ...at, z: clear });
        break;
      }
      case 'arc': {
        const centre = row.centre ?? at;
        const sweep = sweepOf(here ?? at, at, centre, row.note);
        go('feed', at, { centre, sweep });
        break;
      }
      default: {
        // One handwheel, then the other; what a dial is turned past its place, the cutter goes too.
        const from: Point3 = here ?? at;
        const walkX = (y: number): void => {
          for (const x of xs) if (x !== (here as Point3).x) go('feed', { x, y, z: from.z });
        };
        const walkY = (x: number): void => {
          for (const y of ys) if (y !== (here as Point3).y) go('feed', { x, y, z: from.z });
        };
        here = from;
        if (row.way === 'ramp' || row.note.includes('aslant')) go('feed', at);
        else if (row.way === 'y first') {
          walkY(from.x);
          walkX(at.y);
        } else {
          walkX(from.y);
          walkY(at.x);
        }
        if (at.z !== (here as Point3).z) go('feed', at);
      }
    }
  });
  return { motions, labels, stops, faults: [], workOffset: '', ended: true, dwell: 0 };
};

/** Where the slides stand on the way to a row and at it, mm. */
export interface SlidePlaces {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly z: number;
}

/** What kind of pass each row belongs to, as its first row says. */
const kindsOf = (rows: readonly ReadRow[]): readonly string[] => {
  let kind = '';
  return rows.map((row, i) => {
    const before = rows[i - 1];
    if (before === undefined || before.pass !== row.pass || before.step !== row.step) {
      kind = /^(rough|finish|release)/.exec(row.note)?.[1] ?? '';
    }
    return kind;
  });
};

const sweepOf = (from: Point, to: Point, centre: Point, note: string): number => {
  const anticlockwise = note.includes('anticlockwise');
  const full = 2 * Math.PI;
  const turn =
    Math.atan2(to.y - centre.y, to.x - centre.x) - Math.atan2(from.y - centre.y, from.x - centre.x);
  const forward = ((turn % full) + full) % full;
  const same = note.includes('full circle');
  if (anticlockwise) return same ? full : forward;
  return same ? -full : forward - full;
};
