import { type Path, pathLength } from '../../sketch/shape/region.ts';
import type { Stretch } from './bites.ts';
import type { EntryTerms } from './entry.ts';
import type { Pen } from './pen.ts';
import { afterFirst, firstOf } from './track.ts';

/** The feed is raised this far behind the work, and taken back this far before it, mm. */
const BEHIND = 0.1;
const BEFORE = 0.5;
/** On a stretch shorter than this no machine comes up to speed, mm. */
const SHORTEST = 2;

/**
 * Follows a path at its depth: at the feed where something is cut, and at the machine's fastest, where it is driven by
 * a program, through what is gone already.
 */
export const followThrough = (
  pen: Pen,
  path: Path,
  bites: readonly Stretch[],
  { feed, through }: EntryTerms,
): void => {
  if (through === undefined || through <= feed) {
    pen.follow(path.segments, feed);
    return;
  }
  let done = 0;
  let rest = path;
  const go = (to: number, own: number): void => {
    if (to - done < 1e-6) return;
    pen.follow(firstOf(rest, to - done), own);
    rest = afterFirst(rest, to - done);
    done = to;
  };
  for (const gap of gapsIn(bites, pathLength(path))) {
    go(gap.from, feed);
    go(gap.to, through);
  }
  if (done < pathLength(path) - 1e-6) pen.follow(rest.segments, feed);
};

/** The feed where nothing stands: the machine's fastest, where it is driven by a program. */
export const feedThrough = ({ feed, through }: EntryTerms): number => Math.max(feed, through ?? feed);

/** What lies between bites, less what the feed is kept for before and behind them. */
const gapsIn = (bites: readonly Stretch[], length: number): readonly Stretch[] => {
  const ends = [...bites.map((b) => b.from - BEFORE), length];
  const starts = [0, ...bites.map((b) => b.to + BEHIND)];
  return starts.map((from, i) => ({ from, to: ends[i]! })).filter(({ from, to }) => to - from > SHORTEST);
};
