import type { Unit } from './part.ts';

/** Exactly, by the international yard and pound agreement of 1959. */
export const MM_PER_INCH = 25.4;

/** Millimetres in one of the unit. */
export const mmPer = (unit: Unit): number => (unit === 'mm' ? 1 : MM_PER_INCH);

/** A length in mm as people read it in their unit, e.g. `2.5 mm` or `0.0984 in`: no more decimals than mean something. */
export const lengthText = (mm: number, unit: Unit): string =>
  unit === 'mm' ? `${plain(mm, 3)} mm` : `${plain(mm / MM_PER_INCH, 4)} in`;

/**
 * A number without trailing noughts, rounded to so many decimals. What the way through another unit left behind the
 * twelfth figure is no reason to round down: 3/32 in is 0.0938.
 */
export const plain = (value: number, decimals: number): string => {
  const text = Number(value.toPrecision(12)).toFixed(decimals);
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
};

export const radians = (degrees: number): number => (degrees * Math.PI) / 180;
export const degrees = (radians: number): number => (radians * 180) / Math.PI;
