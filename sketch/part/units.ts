import type { Unit } from './part.ts';

/** Exactly, by the international yard and pound agreement of 1959. */
export const MM_PER_INCH = 25.4;

/** Millimetres in one of the unit. */
export const mmPer = (unit: Unit): number => (unit === 'mm' ? 1 : MM_PER_INCH);

/** A length in mm as people read it in their unit, e.g. `2.5 mm` or `0.0984 in`: no more decimals than mean something. */
export const lengthText = (mm: number, unit: Unit): string =>
  unit === 'mm' ? `${plain(mm, 3)} mm` : `${plain(mm / MM_PER_INCH, 4)} in`;

/** A length in mm that is told and not set, as it is said in the unit: hundredths of a mm or thousandths of an inch. */
export const roundText = (mm: number, unit: Unit): string =>
  unit === 'mm' ? `${plain(mm, 2)} mm` : `${plain(mm / MM_PER_INCH, 3)} in`;

/** The unit as it stands in a table's head. */
export const unitSign = (unit: Unit): 'mm' | 'in' => (unit === 'mm' ? 'mm' : 'in');

/**
 * A small length in mm – a movement, a bend, an error of a wall – as a figure in the unit, always with the same decimals:
 * thousandths of a mm, or ten-thousandths of an inch.
 */
export const smallFigure = (mm: number, unit: Unit): string => {
  const text = (mm / mmPer(unit)).toFixed(unit === 'mm' ? 3 : 4);
  return Number(text) === 0 ? text.replace('-', '') : text;
};

/** The same as it is said: of what is smaller than a hundredth of a mm, ten-thousandths, and never nought of what is more. */
export const smallText = (mm: number, unit: Unit): string => {
  if (mm > 0 && mm / mmPer(unit) < 5e-5) return `less than 0.0001 ${unitSign(unit)}`;
  return unit === 'mm' && mm < 0.0095 ? `${mm.toFixed(4)} mm` : `${smallFigure(mm, unit)} ${unitSign(unit)}`;
};

/** The same as an estimate: `about 0.047 mm`, or only that it is less than can be told. */
export const aboutText = (mm: number, unit: Unit): string => {
  const text = smallText(mm, unit);
  return text.startsWith('less') ? text : `about ${text}`;
};

/** A place to be found again by eye, in mm, as a figure in the unit: tenths of a mm or hundredths of an inch. */
export const placeFigure = (mm: number, unit: Unit): string => {
  const text = (mm / mmPer(unit)).toFixed(unit === 'mm' ? 1 : 2);
  return Number(text) === 0 ? text.replace('-', '') : text;
};

/** An area in mm² as it is said in the unit, e.g. `2.4 mm²` or `0.0037 in²`. */
export const areaText = (mm2: number, unit: Unit): string =>
  unit === 'mm' ? `${plain(mm2, 2)} mm²` : `${plain(mm2 / MM_PER_INCH ** 2, 4)} in²`;

/** A volume in mm³ as it is said in the unit, e.g. `12 mm³` or `0.0007 in³`. */
export const volumeText = (mm3: number, unit: Unit): string =>
  unit === 'mm' ? `${plain(mm3, 0)} mm³` : `${plain(mm3 / MM_PER_INCH ** 3, 4)} in³`;

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
