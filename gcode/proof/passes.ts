import type { Label, Motion, Reading } from '../reading/motion.ts';

/** A pass as the text names it. */
export interface PassName {
  readonly step: string;
  /** What the label said, or an empty text. */
  readonly label: string;
  readonly kind: 'rough' | 'finish' | 'release';
}

/** A run of motions that make one pass, found from the text alone. */
export interface PassGroup extends PassName {
  /** First motion and one past the last. */
  readonly first: number;
  readonly end: number;
  /** Lowest height the tip feeds to, program coordinates, mm; null when the run only moves in the air by rapids. */
  readonly lowest: number | null;
}

/** Motions that belong together: to the pass under way, or to a new one that begins with them. */
export interface PassPart {
  readonly begins: PassName | null;
  readonly motions: readonly Motion[];
}

const SAME_LEVEL = 0.005;
/** A way down that takes more motions than this is no way down but a cut by itself. */
const MOST_HELD = 10_000;

/**
 * Tells the passes of a program apart as its motions come: by the writer's labels where there are any, otherwise a new
 * pass for each cutter and each new level at which it is fed along in XY (the way down to a level belongs to that
 * level, so that it is held back until it is known where it leads). `labels` are those read so far.
 */
export const passSplitter = (labels: readonly Label[]) => {
  let before: Motion | undefined;
  let level: number | null = null;
  /** The way to the next level, from where the one before is left; null while there is none. */
  let way: Motion[] | null = null;
  let parts: PassPart[] = [];
  let run: Motion[] = [];
  let begins: PassName | null = null;

  const close = (): void => {
    if (run.length > 0) parts.push({ begins, motions: run });
    run = [];
    begins = null;
  };
  const begin = (first: Motion): void => {
    close();
    begins = nameOf(first, labels);
  };
  const settle = (): void => {
    if (way !== null) for (const held of way) run.push(held);
    way = null;
  };

  const take = (motion: Motion): void => {
    const last = before;
    before = motion;
    if (last === undefined || last.tool !== motion.tool || last.label !== motion.label) {
      settle();
      begin(motion);
      level = null;
      run.push(motion);
      return;
    }
    if (motion.label >= 0) {
      run.push(motion);
      return;
    }
    const flat = Math.abs(motion.to.z - motion.from.z) < 1e-6 && isAcross(motion);
    if (motion.kind === 'rapid' || !flat) {
      if (last.kind !== 'rapid' && motion.kind === 'rapid') {
        settle();
        way = [];
      } else if (level !== null) way ??= [];
      if (way !== null && way.length >= MOST_HELD) settle();
      (way ?? run).push(motion);
      return;
    }
    const { z } = motion.to;
    const left = way?.[0];
    // A rise and fall under feed, as over a bridge, is no new level; a fall is.
    const jumped = left?.kind === 'rapid';
    if (level !== null && left !== undefined && (jumped ? Math.abs(z - level) : level - z) > SAME_LEVEL) {
      begin(left);
    }
    settle();
    level = level === null || jumped ? z : Math.min(level, z);
    run.push(motion);
  };

  return {
    /** Takes motions in and gives back those whose pass is known. */
    take(motions: readonly Motion[]): readonly PassPart[] {
      for (const motion of motions) take(motion);
      close();
      const known = parts;
      parts = [];
      return known;
    },
    /** What was still held back at the end. */
    end(): readonly PassPart[] {
      settle();
      close();
      return parts;
    },
  };
};

const nameOf = (first: Motion, labels: readonly Label[]): PassName => {
  const label = labels[first.label];
  const words = `${label?.step ?? ''} ${label?.pass ?? ''}`;
  return {
    step: label?.step ?? `cutter ${first.tool}`,
    label: label?.pass ?? '',
    kind: /releas/i.test(words) ? 'release' : /finish/i.test(words) ? 'finish' : 'rough',
  };
};

const isAcross = (m: Motion): boolean =>
  m.kind === 'arc' || Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y) > 1e-6;

/** The passes of a program that has been read whole. */
export const passGroups = (reading: Reading): readonly PassGroup[] => {
  const splitter = passSplitter(reading.labels);
  const groups: PassGroup[] = [];
  let at = 0;
  for (const { begins, motions } of [...splitter.take(reading.motions), ...splitter.end()]) {
    const going = groups.at(-1);
    const lowest = lowestFeed(motions, begins === null ? (going?.lowest ?? null) : null);
    if (begins !== null) groups.push({ ...begins, first: at, end: at + motions.length, lowest });
    else if (going !== undefined) groups[groups.length - 1] = { ...going, end: at + motions.length, lowest };
    at += motions.length;
  }
  return groups;
};

/** Lowest height that feeds come to, or that came before; null where there was none. */
export const lowestFeed = (motions: readonly Motion[], before: number | null): number | null => {
  let lowest = before;
  for (const m of motions) {
    if (m.kind === 'rapid') continue;
    const low = Math.min(m.from.z, m.to.z);
    if (lowest === null || low < lowest) lowest = low;
  }
  return lowest;
};
