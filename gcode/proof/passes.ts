import type { Motion, Reading } from '../reading/motion.ts';

/** A run of motions that make one pass, found from the text alone. */
export interface PassGroup {
  readonly step: string;
  /** What the label said, or an empty text. */
  readonly label: string;
  readonly kind: 'rough' | 'finish' | 'release';
  /** First motion and one past the last. */
  readonly first: number;
  readonly end: number;
  /** Lowest height the tip feeds to, program coordinates, mm; null when the run only moves in the air by rapids. */
  readonly lowest: number | null;
}

const SAME_LEVEL = 0.005;

/**
 * The passes of a program: by the writer's labels where there are any, otherwise a new pass for each cutter and each
 * new level at which it is fed along in XY (the way down to a level belongs to that level).
 */
export const passGroups = (reading: Reading): readonly PassGroup[] => {
  const { motions, labels } = reading;
  const starts: number[] = [];
  let level: number | null = null;
  // Where the way to the next level began: a pass starts there once that level proves to be new.
  let approach = 0;
  motions.forEach((motion, i) => {
    const before = motions[i - 1];
    const newTool = before === undefined || before.tool !== motion.tool;
    if (newTool || before.label !== motion.label) {
      starts.push(i);
      level = null;
      approach = i;
      return;
    }
    if (motion.label >= 0) return;
    const flat = Math.abs(motion.to.z - motion.from.z) < 1e-6 && isAcross(motion);
    if (motion.kind === 'rapid' || !flat) {
      if (before.kind !== 'rapid' && motion.kind === 'rapid') approach = i;
      return;
    }
    if (level !== null && Math.abs(motion.to.z - level) > SAME_LEVEL && approach > starts[starts.length - 1]!)
      starts.push(approach);
    level = motion.to.z;
  });
  return starts.map((first, k) => {
    const end = starts[k + 1] ?? motions.length;
    const run = motions.slice(first, end);
    const label = labels[run[0]!.label];
    const feeds = run.filter((m) => m.kind !== 'rapid');
    const words = `${label?.step ?? ''} ${label?.pass ?? ''}`;
    return {
      step: label?.step ?? `cutter ${run[0]!.tool}`,
      label: label?.pass ?? '',
      kind: /releas/i.test(words) ? 'release' : /finish/i.test(words) ? 'finish' : 'rough',
      first,
      end,
      lowest: feeds.length === 0 ? null : Math.min(...feeds.map((m) => Math.min(m.from.z, m.to.z))),
    };
  });
};

const isAcross = (m: Motion): boolean =>
  m.kind === 'arc' || Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y) > 1e-6;
