import { allFeatures, type Feature, featuresOf } from './features.ts';
import type { Json, JsonObject } from './json.ts';
import { FEATURE_KINDS } from './new-feature.ts';
import { removeFromRoute } from './route-names.ts';

export interface Removed {
  readonly document: JsonObject;
  /** What was not asked for but hung on something that was: the arms of an end. */
  readonly alsoGone: readonly string[];
}

/** The document without these features, without the arms of its removed ends, and without their job steps. */
export const removeFeatures = (document: JsonObject, names: readonly string[]): Removed => {
  const asked = featuresOf(document, names);
  const ends = new Set<Json | undefined>(asked.filter((f) => f.kind === 'ends').map((f) => f.name));
  const chosen = new Set(asked.map((f) => f.name));
  const arms = allFeatures(document).filter(
    (f) => f.kind === 'arms' && !chosen.has(f.name) && (ends.has(f.value.from) || ends.has(f.value.to)),
  );
  const gone = [...asked, ...arms];
  if (gone.length === 0) return { document, alsoGone: [] };
  return {
    document: without(removeFromRoute(document, gone), gone),
    alsoGone: arms.map((f) => f.name),
  };
};

/** The lists without these features; a list that nothing is left of goes too. */
const without = (document: JsonObject, gone: readonly Feature[]): JsonObject =>
  Object.fromEntries(
    Object.entries(document).flatMap(([key, value]) => {
      const kind = FEATURE_KINDS.find((k) => k === key);
      const indices = new Set(gone.filter((f) => f.kind === kind).map((f) => f.index));
      if (indices.size === 0 || !Array.isArray(value)) return [[key, value]];
      const left = value.filter((_, i) => !indices.has(i));
      return left.length === 0 ? [] : [[key, left]];
    }),
  );
