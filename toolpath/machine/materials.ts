import type { Material } from '../../sketch/part/part.ts';
import type { Cutter } from './cutter.ts';

/** What one kind of cutter bears in one material. */
export interface CuttingTerms {
  /** Surface speed of an endmill, m/min. */
  readonly surfaceSpeed: number;
  /** Milling load a tooth as a share of the cutter's diameter: thin cutters bear less. */
  readonly toothLoadShare: number;
  /** Drilling feed a turn as a share of the drill's diameter. */
  readonly drillFeedShare: number;
}

/** No tooth of a small machine is asked for more than this, mm, however stout the cutter. Common practice, no source. */
export const GREATEST_TOOTH_LOAD = 0.1;

/** No drill is asked for more than this a turn, mm. Common practice, no source. */
export const GREATEST_DRILL_FEED = 0.2;

/**
 * Cutting data for small, light machines. Every figure is a value from memory, at the careful end of the ranges that
 * machinists' handbooks and cutter makers print for uncoated high-speed steel and general-purpose carbide; the
 * shares reproduce tooth loads of about 0.01 mm for 2 mm cutters and 0.06 mm for 12 mm cutters in steel. A route may
 * override the speed and the feed of any job step.
 *
 * | material | handbook range, high-speed steel, m/min (from memory) |
 * | --- | --- |
 * | free-cutting steel | 30–45 |
 * | low-carbon steel | 24–36 |
 * | stainless steel (austenitic) | 12–25 |
 * | grey cast iron | 18–30 |
 * | brass | 45–90 |
 * | bronze | 20–40 |
 * | aluminium | 60–150 |
 * | acetal | 90–150 |
 */
export const CUTTING_DATA: Readonly<Record<Material, Readonly<Record<Cutter['material'], CuttingTerms>>>> = {
  'free-cutting steel': {
    'high-speed steel': { surfaceSpeed: 30, toothLoadShare: 0.005, drillFeedShare: 0.018 },
    carbide: { surfaceSpeed: 75, toothLoadShare: 0.005, drillFeedShare: 0.016 },
  },
  'low-carbon steel': {
    'high-speed steel': { surfaceSpeed: 24, toothLoadShare: 0.0045, drillFeedShare: 0.016 },
    carbide: { surfaceSpeed: 60, toothLoadShare: 0.0045, drillFeedShare: 0.014 },
  },
  'stainless steel': {
    'high-speed steel': { surfaceSpeed: 14, toothLoadShare: 0.0045, drillFeedShare: 0.014 },
    carbide: { surfaceSpeed: 42, toothLoadShare: 0.004, drillFeedShare: 0.012 },
  },
  'cast iron': {
    'high-speed steel': { surfaceSpeed: 20, toothLoadShare: 0.006, drillFeedShare: 0.02 },
    carbide: { surfaceSpeed: 60, toothLoadShare: 0.006, drillFeedShare: 0.018 },
  },
  brass: {
    'high-speed steel': { surfaceSpeed: 50, toothLoadShare: 0.007, drillFeedShare: 0.022 },
    carbide: { surfaceSpeed: 100, toothLoadShare: 0.007, drillFeedShare: 0.02 },
  },
  bronze: {
    'high-speed steel': { surfaceSpeed: 28, toothLoadShare: 0.006, drillFeedShare: 0.02 },
    carbide: { surfaceSpeed: 56, toothLoadShare: 0.006, drillFeedShare: 0.018 },
  },
  aluminium: {
    'high-speed steel': { surfaceSpeed: 75, toothLoadShare: 0.008, drillFeedShare: 0.022 },
    carbide: { surfaceSpeed: 150, toothLoadShare: 0.008, drillFeedShare: 0.02 },
  },
  acetal: {
    'high-speed steel': { surfaceSpeed: 90, toothLoadShare: 0.012, drillFeedShare: 0.025 },
    carbide: { surfaceSpeed: 135, toothLoadShare: 0.012, drillFeedShare: 0.025 },
  },
};
