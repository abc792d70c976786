import type { Region } from '../shape/region.ts';
import type { Drawing } from './drawing.ts';
import { evenOdd } from './nesting.ts';
import { outlinesOf } from './outlines.ts';

/** The region that the closed outlines of a drawing mean by the even-odd rule, mm; lands and counterbores left aside. */
export const drawingRegion = (drawing: Drawing): Region => evenOdd(outlinesOf(drawing).closed);
