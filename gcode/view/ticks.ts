import { signal } from '@preact/signals';

/** When each stop was ticked, as ISO 8601 times, by its key. */
export type Ticks = Readonly<Record<string, string>>;

const PREFIX = 'leverwright-ticks';

/** A short sign of a text: ticks belong to the very numbers they were made beside (FNV-1a, 32 bit). */
export const signOf = (text: string): string => {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  return (h >>> 0).toString(16).padStart(8, '0');
};

/** Why ticks are not kept over a reload; null while they are. */
export const ticksLost = signal<string | null>(null);

const isTicks = (value: unknown): value is Ticks =>
  typeof value === 'object' && value !== null && Object.values(value).every((v) => typeof v === 'string');

/** The ticks kept for these numbers; none when nothing sound is there. */
export const readTicks = (sign: string): Ticks => {
  try {
    const value: unknown = JSON.parse(localStorage.getItem(`${PREFIX}.${sign}`) ?? '{}');
    return isTicks(value) ? value : {};
  } catch {
    return {};
  }
};

export const keepTicks = (sign: string, ticks: Ticks): void => {
  try {
    localStorage.setItem(`${PREFIX}.${sign}`, JSON.stringify(ticks));
    ticksLost.value = null;
  } catch {
    ticksLost.value = 'This browser keeps nothing for the page: ticks are lost when it is closed.';
  }
};
