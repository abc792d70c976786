/** How far long work is: what is under way, the share of it that is done, and an estimate of the time it still takes, s. */
export interface Doing {
  /** Begins a line. */
  readonly what: string;
  /** 0 to 1; null where there is nothing to count. */
  readonly share: number | null;
  /** Null before there is anything to judge by. */
  readonly secondsLeft: number | null;
}
