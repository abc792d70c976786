import type { Quantity } from '../part/dimensions.ts';
import type { Part, Unit } from '../part/part.ts';
import type { JsonObject } from './json.ts';
import type { Caught } from './snap.ts';
import type { SnapField } from './snap-field.ts';
import { lettered } from './stated.ts';

/** What the pencil draws. */
export const TOOLS = ['end', 'arm', 'plate', 'hole', 'slot', 'fork', 'land'] as const;
export type Tool = (typeof TOOLS)[number];

/** One stroke of the pencil, from where it was put down to where it is now. */
export interface Stroke {
  readonly tool: Tool;
  readonly from: Caught;
  readonly to: Caught;
  /** True while the pencil has not moved: sizes are then the usual ones. */
  readonly tap: boolean;
  /** Sizes that were typed, by key; the pencil does not change them any more. */
  readonly fixed: Readonly<Record<string, Quantity>>;
  /** Corners set one by one, for a plate or land that is no rectangle. */
  readonly corners: readonly Caught[];
}

/** A size of what is being drawn: lengths in the document's unit, angles in degrees. */
export interface Size {
  readonly key: string;
  readonly label: string;
  readonly value: Quantity;
  readonly fixed: boolean;
}

/** A size as it is read while one draws: what was typed as it stands, what the pencil says as it can be set. */
export const sizeText = ({ key, value, fixed }: Size, unit: Unit): string =>
  fixed || typeof value === 'string'
    ? String(value)
    : lettered(value, key === 'angle' || key === 'direction' ? 'degrees' : unit);

/** What a stroke makes of the document. */
export type Sketched =
  | {
      readonly ok: true;
      readonly document: JsonObject;
      /** The features it made, the main one last. */
      readonly names: readonly string[];
      /** The main size first: digits typed while drawing go there. */
      readonly sizes: readonly Size[];
      /** What the size itself caught on. */
      readonly words: string | null;
    }
  | {
      readonly ok: false;
      readonly message: string;
      /** Sizes of what is under way all the same; none when left out. */
      readonly sizes?: readonly Size[];
    };

/** What is drawn on, and what sizes are usual. */
export interface Ground {
  readonly document: JsonObject;
  readonly part: Part;
  readonly field: SnapField;
  /** How far things catch, mm. */
  readonly reach: number;
  readonly values: ReadonlyMap<string, number>;
  /** Sizes last drawn, mm, by tool. */
  readonly usual: Readonly<Record<string, number>>;
}
