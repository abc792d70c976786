/** The small distances that keep a cutter out of trouble, mm. Common practice, no source, unless said. */

/** Rapids across the work run this far above its top. */
export const CLEAR_ABOVE = 5;

/** A rapid downward stops this far above the nearest material and feeds from there. */
export const FEED_FROM = 0.5;

/** A ramp into the work begins this far above it: what stands there is known. */
export const RAMP_FROM = 0.05;

/** A path that begins in the open begins with the cutter this far clear of what it will cut. */
export const AIR = 0.6;

/** Overlap below which a lap is not worth its travel: it would shave less than this. */
export const BITE = 0.02;

/** The cutter's tip and side stay this far from the jaws. */
export const JAW_CLEARANCE = 0.5;

/** How far past the far side a through cut goes, so that no foil is left. */
export const OVERCUT = 0.2;

/** How far past full diameter a drill goes through the far side. */
export const BREAKTHROUGH = 0.5;

/** Two cuts that meet, one from each face, overlap by this much. */
export const OVERLAP = 0.3;

/** A slot is as wide as its cutter when they differ by less than this. */
export const SAME_WIDTH = 0.02;

/** Bar that must stand outside a groove for the jaws to hold. */
export const RAIL = 3;
