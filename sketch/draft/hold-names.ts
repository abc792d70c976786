import { isObject, type Json, type JsonObject } from './json.ts';

/** Features that a route's setups speak of: holes that screws go through, and forks that are packed. */
export type HeldKind = 'holes' | 'forks';

/** A feature's name after a change, or null where the feature goes. */
type Renaming = (kind: HeldKind, name: string) => string | null;

/** Every feature's name in a route's setups passed through `renamed`; what a screw or piece went into goes with it. */
export const renameInSetups = (setups: JsonObject, renamed: Renaming): JsonObject =>
  Object.fromEntries(
    Object.entries(setups).map(([number, setup]): [string, Json] => [
      number,
      isObject(setup) ? inSetup(setup, renamed) : setup,
    ]),
  );

const inSetup = (setup: JsonObject, renamed: Renaming): JsonObject => {
  const { plate, packing } = setup;
  return {
    ...setup,
    ...(isObject(plate) && Array.isArray(plate.holes)
      ? { plate: { ...plate, holes: plate.holes.flatMap((hole: Json) => throughNames(hole, renamed)) } }
      : {}),
    ...(Array.isArray(packing) ? { packing: packing.flatMap((piece: Json) => inPiece(piece, renamed)) } : {}),
  };
};

const throughNames = (hole: Json, renamed: Renaming): readonly Json[] =>
  typeof hole === 'string' ? [renamed('holes', hole)].filter((name) => name !== null) : [hole];

const inPiece = (piece: Json, renamed: Renaming): readonly Json[] => {
  if (!isObject(piece) || typeof piece.fork !== 'string') return [piece];
  const fork = renamed('forks', piece.fork);
  return fork === null ? [] : [{ ...piece, fork }];
};
