import type { Viewport } from '../canvas/camera.ts';

/** In a window lower than this, pixels, the second view makes itself small. */
export const LOW = 820;

/** What the cards cover of a window of this size, pixels: the style sheet's own figures. */
export const coveredBy = (width: number, height: number, atMachine = false): Viewport['covered'] => {
  // Beside the machine the figures have the most of it.
  if (atMachine && width <= 760) return { left: 8, top: 8, right: 8, bottom: height * 0.7 };
  if (atMachine) return { left: 22, top: 22, right: width * 0.56, bottom: 22 };
  if (width <= 760) return { left: 8, top: 176, right: 8, bottom: Math.min(328, height * 0.42) };
  return {
    left: 22,
    top: 178,
    right: (width <= 1200 ? 372 : 420) + 38,
    bottom: (width <= 1200 ? 178 : 162) + 26 + (height < LOW ? 118 : 150),
  };
};
