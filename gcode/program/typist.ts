import type { ProgramForm } from '../../toolpath/machine/profile.ts';
import { type Counts, chordsOf, fitArc, type PlannedArc } from './arc-fit.ts';
import { countOf, decimal, feedText, type Grid, gridOf, lengthText, secondsText } from './grid.ts';
import { peckCount, uprightSteps } from './pecks.ts';
import type { Block, DrillBlock } from './unfold.ts';

/** What the controller is known to have in force; null where it is not known, so that it is written again. */
interface Modes {
  motion: string | null;
  feed: string | null;
  x: number | null;
  y: number | null;
  z: number | null;
  /** Words of the canned cycle in force, without its place. */
  cycle: string | null;
}

/** Writes blocks as lines, leaving out every word that would say nothing new. */
export interface Typist {
  readonly lines: string[];
  /** A line just as it stands. */
  readonly put: (line: string) => void;
  /** Forget what is in force, so that a run may start here. */
  readonly forget: () => void;
  readonly write: (block: Exclude<Block, { kind: 'stop' }>) => void;
  /** By rapid to a height, wherever the cutter is. */
  readonly rise: (z: number) => void;
  /** Out of any canned cycle. */
  readonly endCycle: () => void;
}

export const typist = (form: ProgramForm): Typist => {
  const grid: Grid = gridOf(form);
  const lines: string[] = [];
  const modes: Modes = { motion: null, feed: null, x: null, y: null, z: null, cycle: null };

  const put = (line: string): void => {
    lines.push(line);
  };
  const putWords = (words: readonly string[]): void => {
    if (words.length > 0) put(words.join(' '));
  };

  const motionWord = (code: string): string[] => {
    if (modes.motion === code) return [];
    modes.motion = code;
    return [code];
  };
  const feedWord = (feed: number): string[] => {
    const text = feedText(grid, feed);
    if (modes.feed === text) return [];
    modes.feed = text;
    return [`F${text}`];
  };
  const axisWords = (to: Partial<Counts>): string[] => {
    const words: string[] = [];
    for (const axis of ['x', 'y', 'z'] as const) {
      const count = to[axis];
      if (count === undefined || count === modes[axis]) continue;
      modes[axis] = count;
      words.push(axis.toUpperCase() + decimal(count, grid.places));
    }
    return words;
  };
  const counts = (p: { x: number; y: number; z: number }): Counts => ({
    x: countOf(grid, p.x),
    y: countOf(grid, p.y),
    z: countOf(grid, p.z),
  });

  const endCycle = (): void => {
    if (modes.cycle === null) return;
    put('G80');
    modes.cycle = null;
  };

  const straight = (code: 'G0' | 'G1', to: Partial<Counts>, feed: number | null): void => {
    endCycle();
    const axes = axisWords(to);
    if (axes.length === 0) return;
    putWords([...motionWord(code), ...axes, ...(feed === null ? [] : feedWord(feed))]);
  };

  const rise = (z: number): void => straight('G0', { z: countOf(grid, z) }, null);

  const arc = (block: Extract<Block, { kind: 'arc' }>): void => {
    const planned: PlannedArc = {
      centre: block.centre,
      radius: Math.hypot(block.from.x - block.centre.x, block.from.y - block.centre.y),
      start: Math.atan2(block.from.y - block.centre.y, block.from.x - block.centre.x),
      sweep: block.sweep,
      fromZ: block.from.z,
      toZ: block.to.z,
      to: block.to,
    };
    if (form.arcs === 'lines') {
      for (const to of chordsOf(grid, planned, form.chord)) straight('G1', to, block.feed);
      return;
    }
    endCycle();
    for (const piece of fitArc(grid, counts(block.from), planned, form.fullCircles)) {
      if (piece.kind === 'line') {
        straight('G1', piece.to, block.feed);
        continue;
      }
      // The standard wants X or Y on every arc: where it ends as it began both are written.
      if (piece.to.x === modes.x && piece.to.y === modes.y) Object.assign(modes, { x: null, y: null });
      const code = motionWord(piece.clockwise ? 'G2' : 'G3');
      const centre = [`I${decimal(piece.i, grid.places)}`, `J${decimal(piece.j, grid.places)}`];
      putWords([...code, ...axisWords(piece.to), ...centre, ...feedWord(block.feed)]);
    }
  };

  const canned = (d: DrillBlock, code: string): void => {
    const backAtTravel = d.back > d.clear;
    const own = [
      backAtTravel ? 'G98' : 'G99',
      code,
      `Z${lengthText(grid, d.depth)}`,
      `R${lengthText(grid, d.clear)}`,
      ...(code === 'G83' ? [`Q${decimal(Math.max(1, countOf(grid, d.peck)), grid.places)}`] : []),
      ...(code === 'G82' || code === 'G89' ? [`P${secondsText(d.dwell)}`] : []),
    ];
    const cycle = own.join(' ');
    const goesOn = modes.cycle === cycle;
    if (!goesOn) {
      endCycle();
      straight('G0', { z: countOf(grid, d.travel) }, null);
    }
    // Both X and Y, so that every hole's line names its place.
    modes.x = null;
    modes.y = null;
    const place = axisWords({ x: countOf(grid, d.at.x), y: countOf(grid, d.at.y) });
    putWords([
      ...(goesOn ? [] : own.slice(0, 2)),
      ...place,
      ...(goesOn ? [] : own.slice(2)),
      ...feedWord(d.feed),
    ]);
    modes.cycle = cycle;
    modes.motion = null;
    modes.z = countOf(grid, d.back);
  };

  const spelledOut = (d: DrillBlock): void => {
    straight('G0', { z: countOf(grid, d.travel) }, null);
    straight('G0', { x: countOf(grid, d.at.x), y: countOf(grid, d.at.y) }, null);
    straight('G0', { z: countOf(grid, d.clear) }, null);
    for (const step of uprightSteps(d)) {
      if (step.kind === 'dwell') put(`G4 P${secondsText(step.seconds)}`);
      else if (step.kind === 'rapid') straight('G0', { z: countOf(grid, step.z) }, null);
      else straight('G1', { z: countOf(grid, step.z) }, d.feed);
    }
  };

  return {
    lines,
    put,
    forget: () => Object.assign(modes, { motion: null, feed: null, x: null, y: null, z: null, cycle: null }),
    rise,
    endCycle,
    write: (block) => {
      switch (block.kind) {
        case 'rapid':
          straight('G0', counts(block.to), null);
          return;
        case 'feed':
          straight('G1', counts(block.to), block.feed);
          return;
        case 'arc':
          arc(block);
          return;
        case 'drill': {
          const code = cycleCode(block);
          if (form.drilling === 'canned' && code !== null) canned(block, code);
          else spelledOut(block);
          return;
        }
      }
    },
  };
};

/** The canned cycle that does what a drilling wants; null where none does. */
const cycleCode = (d: DrillBlock): string | null => {
  if (d.feedOut) return peckCount(d) > 1 ? null : d.dwell > 0 ? 'G89' : 'G85';
  if (peckCount(d) > 1) return d.dwell > 0 ? null : 'G83';
  return d.dwell > 0 ? 'G82' : 'G81';
};
