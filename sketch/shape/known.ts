/** What was worked out before, known by the very objects that it was worked out from. */
export interface Known<K extends object, V> {
  /** The value for some objects and a text for all else that it hangs on: as it is known, or as `make` finds it. */
  readonly of: (objects: readonly K[], also: string, make: () => V) => V;
}

/** In which order objects were first met: none is met before it is there. */
const ages = new WeakMap<object, number>();
let met = 0;

/** A number that no other object has. */
export const ageOf = (object: object): number => {
  const known = ages.get(object);
  if (known !== undefined) return known;
  met++;
  ages.set(object, met);
  return met;
};

/**
 * A memory by the objects themselves, which never change. An object is no other, so nothing of it is left out of the
 * key. What is known hangs on the youngest of its objects and is forgotten with it, so that nothing gathers on one that
 * lives long: there are only so many that are older than it. For no objects at all nothing is kept.
 */
export const knownBy = <K extends object, V>(): Known<K, V> => {
  const kept = new WeakMap<K, Map<string, V>>();
  return {
    of: (objects, also, make) => {
      let youngest: K | null = null;
      let last = 0;
      let key = also;
      for (const object of objects) {
        const age = ageOf(object);
        key += `,${age}`;
        if (age > last) {
          last = age;
          youngest = object;
        }
      }
      if (youngest === null) return make();
      let there = kept.get(youngest);
      const found = there?.get(key);
      if (found !== undefined) return found;
      const made = make();
      if (there === undefined) {
        there = new Map();
        kept.set(youngest, there);
      }
      there.set(key, made);
      return made;
    },
  };
};
