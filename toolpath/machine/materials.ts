import type { Material } from '../../sketch/part/part.ts';

/**
 * Cutting data for small, light machines. Every figure here is a value from memory, on the careful side of what
 * handbooks and cutter makers print for high-speed steel; all of them can be overridden in a route.
 */
export interface CuttingData {
  /** Surface speed of a high-speed steel endmill, m/min. */
  readonly surfaceSpeed: number;
  /** How much faster carbide may run. */
  readonly carbideFactor: number;
  /** Milling load a tooth as a share of the cutter's diameter. */
  readonly toothLoadShare: number;
  /** Drilling feed a turn as a share of the drill's diameter. */
  readonly drillFeedShare: number;
}

export const CUTTING_DATA: Readonly<Record<Material, CuttingData>> = {
  'free-cutting steel': {
    surfaceSpeed: 30,
    carbideFactor: 2.5,
    toothLoadShare: 0.005,
    drillFeedShare: 0.018,
  },
  'low-carbon steel': { surfaceSpeed: 24, carbideFactor: 2.5, toothLoadShare: 0.0045, drillFeedShare: 0.016 },
  'stainless steel': { surfaceSpeed: 14, carbideFactor: 3, toothLoadShare: 0.0045, drillFeedShare: 0.014 },
  'cast iron': { surfaceSpeed: 20, carbideFactor: 3, toothLoadShare: 0.006, drillFeedShare: 0.02 },
  brass: { surfaceSpeed: 50, carbideFactor: 2, toothLoadShare: 0.007, drillFeedShare: 0.022 },
  bronze: { surfaceSpeed: 28, carbideFactor: 2, toothLoadShare: 0.006, drillFeedShare: 0.02 },
  aluminium: { surfaceSpeed: 75, carbideFactor: 2, toothLoadShare: 0.008, drillFeedShare: 0.022 },
  acetal: { surfaceSpeed: 90, carbideFactor: 1.5, toothLoadShare: 0.012, drillFeedShare: 0.025 },
};
