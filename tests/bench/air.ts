/** Gaps between two cuts shorter than this may be the map's grain: a thin shaving need not reach a cell's middle. mm. */
const GRAIN = 0.5;

/** Seconds under feed in which nothing is cut, of motions told of piece by piece. */
export interface Air {
  readonly fed: (length: number, seconds: number, cuts: boolean) => void;
  /** The cutter goes elsewhere by rapid: what it fed last after a cut was a way out. */
  readonly lifted: () => void;
  readonly seconds: () => number;
}

export const countAir = (): Air => {
  let total = 0;
  let gap = { length: 0, seconds: 0 };
  let hasCut = false;
  const close = (counts: boolean): void => {
    if (counts) total += gap.seconds;
    gap = { length: 0, seconds: 0 };
  };
  return {
    fed: (length, seconds, cuts) => {
      if (!cuts) {
        gap = { length: gap.length + length, seconds: gap.seconds + seconds };
        return;
      }
      close(!hasCut || gap.length >= GRAIN);
      hasCut = true;
    },
    lifted: () => {
      close(true);
      hasCut = false;
    },
    seconds: () => total + gap.seconds,
  };
};
