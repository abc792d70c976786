import { MM_PER_INCH } from './units.ts';

/**
 * Diameters in inches of the number drills 1 to 80 and the letter drills A to Z, by ANSI/ASME B94.11M.
 * Values from memory.
 */
const NUMBER_DRILLS: readonly number[] = [
  0.228, 0.221, 0.213, 0.209, 0.2055, 0.204, 0.201, 0.199, 0.196, 0.1935, 0.191, 0.189, 0.185, 0.182, 0.18,
  0.177, 0.173, 0.1695, 0.166, 0.161, 0.159, 0.157, 0.154, 0.152, 0.1495, 0.147, 0.144, 0.1405, 0.136, 0.1285,
  0.12, 0.116, 0.113, 0.111, 0.11, 0.1065, 0.104, 0.1015, 0.0995, 0.098, 0.096, 0.0935, 0.089, 0.086, 0.082,
  0.081, 0.0785, 0.076, 0.073, 0.07, 0.067, 0.0635, 0.0595, 0.055, 0.052, 0.0465, 0.043, 0.042, 0.041, 0.04,
  0.039, 0.038, 0.037, 0.036, 0.035, 0.033, 0.032, 0.031, 0.0292, 0.028, 0.026, 0.025, 0.024, 0.0225, 0.021,
  0.02, 0.018, 0.016, 0.0145, 0.0135,
];

const LETTER_DRILLS: readonly number[] = [
  0.234, 0.238, 0.242, 0.246, 0.25, 0.257, 0.261, 0.266, 0.272, 0.277, 0.281, 0.29, 0.295, 0.302, 0.316,
  0.323, 0.332, 0.339, 0.348, 0.358, 0.368, 0.377, 0.386, 0.397, 0.404, 0.413,
];

/** Diameter in mm of a drill named as in a shop's table: "30", "J", "5/32" (inches) or "2.5 mm"; null when unknown. */
export const drillDiameter = (name: string): number | null => {
  const metric = /^(\d+(?:\.\d+)?) mm$/.exec(name);
  if (metric !== null) return Number(metric[1]);
  const fraction = /^(\d+)\/(\d+)$/.exec(name);
  if (fraction !== null) return (Number(fraction[1]) / Number(fraction[2])) * MM_PER_INCH;
  const inches = /^[A-Z]$/.test(name)
    ? LETTER_DRILLS[name.charCodeAt(0) - 65]
    : /^\d+$/.test(name)
      ? NUMBER_DRILLS[Number(name) - 1]
      : undefined;
  return inches === undefined ? null : inches * MM_PER_INCH;
};

/** Step of a common set of metric drills, mm. */
export const DRILL_STEP = 0.1;

/** The drill of a 0.1 mm metric set nearest to a diameter, mm; a tie goes to the larger. */
export const nearestDrill = (diameter: number): number =>
  Math.max(1, Math.floor(diameter / DRILL_STEP + 0.5 + 1e-9)) / Math.round(1 / DRILL_STEP);
