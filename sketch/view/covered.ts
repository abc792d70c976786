import type { Viewport } from '../canvas/camera.ts';

/** What the cards cover of a window of this size, pixels: the style sheet's own figures. */
export const coveredBy = (width: number, height: number): Viewport['covered'] => {
  if (width <= 760) return { left: 8, top: 176, right: 8, bottom: Math.min(328, height * 0.42) };
  return {
    left: 22,
    top: 178,
    right: (width <= 1200 ? 372 : 420) + 38,
    bottom: (width <= 1200 ? 196 : 162) + 26 + 150,
  };
};
