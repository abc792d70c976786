import type { Part } from './part.ts';

/**
 * A part read anew in which every feature that is as it was in the part before is the very object it was: what is known
 * of an object that never changes is then known after an edit as well.
 */
export const sharedWith = (before: Part | null, part: Part): Part => {
  if (before === null) return part;
  const shared: Part = {
    ...part,
    bar: oneOf([before.bar], part.bar),
    ends: allOf(before.ends, part.ends),
    arms: allOf(before.arms, part.arms),
    plates: allOf(before.plates, part.plates),
    holes: allOf(before.holes, part.holes),
    slots: allOf(before.slots, part.slots),
    forks: allOf(before.forks, part.forks),
    lands: allOf(before.lands, part.lands),
  };
  return isSame(before, shared) ? before : shared;
};

const allOf = <T>(known: readonly T[], features: readonly T[]): readonly T[] =>
  features.map((feature) => oneOf(known, feature));

const oneOf = <T>(known: readonly T[], feature: T): T => known.find((k) => isSame(k, feature)) ?? feature;

/** Whether two plain values are the same all through, to the last bit of every number and the sign of nothing. */
const isSame = (a: unknown, b: unknown): boolean => {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const [one, other] = [Object.entries(a), new Map(Object.entries(b))];
  return (
    one.length === other.size &&
    one.every(([name, value]) => other.has(name) && isSame(value, other.get(name)))
  );
};
