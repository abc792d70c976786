/**
 * Every tolerance of the geometry in one place. All in mm.
 *
 * Exact lines and arcs are the truth. Boolean work is done on an integer image of them (clipper-lib), and the
 * result is put back on the very lines and circles it came from.
 */

/** Units of the integer image per mm: one unit is a tenth of a micrometre. */
export const IMAGE_SCALE = 10_000;

/** Greatest distance between an arc and its chords in the image. The promise is 0.002 mm; we keep half. */
export const CHORD_TOLERANCE = 0.001;

/** Greatest distance between a recovered line or arc and the image's corners. */
export const RECOVERY_TOLERANCE = 0.003;

/** Points nearer than this are one point. */
export const SAME_POINT = 1e-6;

/** Segments shorter than this are noise of the image and are closed up. */
export const SHORTEST_SEGMENT = 0.0008;

/** Pieces and holes whose mean width is less than this are noise of the image: as wide as two chordings of one arc differ. */
export const THINNEST_PIECE = 0.001;
