import type { Region } from './region.ts';

/** Everything in any of the regions. */
export declare function union(regions: readonly Region[]): Region;
/** What is in `a` and not in `b`. */
export declare function difference(a: Region, b: Region): Region;
/** What is in both. */
export declare function intersection(a: Region, b: Region): Region;
