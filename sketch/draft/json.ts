/** Plain JSON, as a part file holds it. */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };
export type JsonObject = { readonly [key: string]: Json };
/** The way to a value: keys and indices from the document down. */
export type JsonPath = readonly (string | number)[];

export const isObject = (j: Json | undefined): j is JsonObject =>
  typeof j === 'object' && j !== null && !Array.isArray(j);

export const getIn = (root: Json, path: JsonPath): Json | undefined => {
  let at: Json | undefined = root;
  for (const key of path) {
    if (Array.isArray(at) && typeof key === 'number') at = at[key];
    else if (isObject(at) && typeof key === 'string') at = at[key];
    else return undefined;
  }
  return at;
};

/** The document with one value put in; `undefined` takes the value out. What is not on the path is shared. */
export const setIn = (root: Json, path: JsonPath, value: Json | undefined): Json => {
  const [key, ...rest] = path;
  if (key === undefined) return value ?? null;
  if (typeof key === 'number') {
    const list: readonly Json[] = Array.isArray(root) ? root : [];
    if (rest.length === 0 && value === undefined) return list.filter((_, i) => i !== key);
    const copy = [...list];
    copy[key] = setIn(list[key] ?? (typeof rest[0] === 'number' ? [] : {}), rest, value);
    return copy;
  }
  const object: JsonObject = isObject(root) ? root : {};
  if (rest.length === 0 && value === undefined) {
    return Object.fromEntries(Object.entries(object).filter(([k]) => k !== key));
  }
  return { ...object, [key]: setIn(object[key] ?? (typeof rest[0] === 'number' ? [] : {}), rest, value) };
};
