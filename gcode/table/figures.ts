import type { Unit } from '../../sketch/part/part.ts';
import { mmPer } from '../../sketch/part/units.ts';

export { unitSign } from '../../sketch/part/units.ts';

/** What a hand can set on a handwheel or a readout: 0.01 mm or half a thousandth of an inch. Common practice, no source. */
const SETTING: Readonly<Record<Unit, { readonly step: number; readonly decimals: number }>> = {
  mm: { step: 0.01, decimals: 2 },
  inch: { step: 0.0005, decimals: 4 },
};

/** A length in mm as a figure in the unit, rounded to what can be set: always the same decimals, never −0. */
export const figure = (mm: number, unit: Unit): string => {
  const { step, decimals } = SETTING[unit];
  const text = (Math.round(mm / mmPer(unit) / step) * step).toFixed(decimals);
  return Number(text) === 0 ? (0).toFixed(decimals) : text;
};

/** A time in seconds as people say it: about so many minutes, or hours and minutes. */
export const timeText = (seconds: number): string => {
  const minutes = Math.max(1, Math.round(seconds / 60));
  return minutes < 60
    ? `about ${minutes} min`
    : `about ${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')} min`;
};
