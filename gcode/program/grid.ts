import type { ProgramForm } from '../../toolpath/machine/profile.ts';

/**
 * The numbers a program can write. Inside the writer places are whole counts of the last decimal, so that what has been
 * written is known exactly, and no rounding is done twice.
 */
export interface Grid {
  readonly unit: 'mm' | 'inch';
  /** mm in one count. */
  readonly step: number;
  readonly places: number;
}

export const gridOf = (form: Pick<ProgramForm, 'unit' | 'decimals'>): Grid => {
  const places = Math.min(6, Math.max(0, Math.round(form.decimals)));
  return { unit: form.unit, step: (form.unit === 'inch' ? 25.4 : 1) / 10 ** places, places };
};

/** Nearest count to a length in mm. Throws a RangeError for what is no number or further than a kilometre. */
export const countOf = (grid: Grid, mm: number): number => {
  if (!(Math.abs(mm) <= 1e6)) throw new RangeError(`a program cannot hold the place ${mm} mm`);
  return Math.round(mm / grid.step);
};

/** Whole counts as a decimal number, always with a point: -1250 by three places is "-1.25". */
export const decimal = (count: number, places: number): string => {
  const size = Math.abs(count)
    .toString()
    .padStart(places + 1, '0');
  const whole = size.slice(0, size.length - places);
  const rest = size.slice(size.length - places).replace(/0+$/, '');
  return `${count < 0 ? '-' : ''}${whole}.${rest === '' ? '0' : rest}`;
};

export const lengthText = (grid: Grid, mm: number): string => decimal(countOf(grid, mm), grid.places);

/** A length with its unit, for people to read. */
export const lengthWords = (grid: Grid, mm: number): string =>
  `${lengthText(grid, mm)} ${grid.unit === 'inch' ? 'in' : 'mm'}`;

/** Decimals of a feed: a tenth of a mm/min, a hundredth of an inch/min. */
const FEED_PLACES = { mm: 1, inch: 2 } as const;

/** A feed in mm/min as an F number in the program's unit. Throws a RangeError unless it is more than nought. */
export const feedText = (grid: Grid, feed: number): string => {
  if (!(feed > 0 && feed <= 1e6)) throw new RangeError(`a program cannot hold the feed ${feed} mm/min`);
  const places = FEED_PLACES[grid.unit];
  const perUnit = grid.unit === 'inch' ? 25.4 : 1;
  return decimal(Math.max(1, Math.round((feed / perUnit) * 10 ** places)), places);
};

/** Seconds to the millisecond. */
export const secondsText = (seconds: number): string => decimal(Math.max(0, Math.round(seconds * 1000)), 3);
