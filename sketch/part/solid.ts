import type { Region } from '../shape/region.ts';
import type { Part } from './part.ts';

/** A slice of the part in which nothing changes with height: the same region from `bottom` to `top`, mm. */
export interface Slab {
  readonly bottom: number;
  readonly top: number;
  readonly region: Region;
}

/** The wanted part as a stack of slabs from the bar's back (0) to its front (thickness), lowest first. */
export interface Solid {
  readonly slabs: readonly Slab[];
}

/** The outline of a part: ends, arms and plates united, nothing cut out. */
export declare function outlineOf(part: Part): Region;
/** The finished part as slabs, with forks, slots, holes and lands cut. Tapped holes have their tap drill's diameter. */
export declare function solidOf(part: Part): Solid;
