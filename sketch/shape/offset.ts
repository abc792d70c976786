import type { Region } from './region.ts';

/**
 * The region grown (distance > 0) or shrunk (distance < 0) by a distance in mm, corners rounded about their points.
 * Straight pieces stay straight, round pieces stay round about the same centre.
 */
export declare function offset(region: Region, distance: number): Region;
