import type { Finding } from '../part/part.ts';
import { segmentBox, segmentLength } from '../shape/segment.ts';
import { SAME_POINT } from '../shape/tolerance.ts';
import {
  type DrawingReading,
  type Fit,
  LARGEST,
  leftOutFinding,
  MM_PER_INCH,
  refused,
  type Stroke,
  type Tally,
  type UnitChoice,
} from './drawing.ts';

/** What a reader has got together before its size is known to be sensible. */
export interface Rough {
  readonly strokes: readonly Stroke[];
  /** Null when the file does not say; the strokes are in the file's units then. */
  readonly mmPerUnit: number | null;
  readonly choices: readonly UnitChoice[];
  readonly leftOut: Tally;
  readonly fit: Fit;
  readonly findings: readonly Finding[];
}

/** The last step of reading any drawing: empty ones, absurd ones and ones without a unit are answered here. */
export const finish = (rough: Rough): DrawingReading => {
  const strokes = rough.strokes.filter((s) => segmentLength(s.segment) > SAME_POINT);
  if (strokes.length < rough.strokes.length) {
    rough.leftOut.add('line or arc without length', rough.strokes.length - strokes.length);
  }
  const leftOut = rough.leftOut.list();
  const findings = [...rough.findings, ...leftOutFinding(leftOut)];
  if (strokes.length === 0) {
    const none = refused('drawing-empty', 'The drawing has no line, arc or circle that can be read.');
    return { ...none, kind: 'refused', findings: [...none.findings, ...findings] };
  }
  const min = { x: Number.POSITIVE_INFINITY, y: Number.POSITIVE_INFINITY };
  const max = { x: Number.NEGATIVE_INFINITY, y: Number.NEGATIVE_INFINITY };
  for (const { segment } of strokes) {
    const box = segmentBox(segment);
    min.x = Math.min(min.x, box.min.x);
    min.y = Math.min(min.y, box.min.y);
    max.x = Math.max(max.x, box.max.x);
    max.y = Math.max(max.y, box.max.y);
  }
  const [width, height] = [max.x - min.x, max.y - min.y];
  if (rough.mmPerUnit === null) {
    return { kind: 'question', question: { kind: 'unit', width, height, choices: rough.choices }, findings };
  }
  const farthest = Math.max(Math.abs(min.x), Math.abs(min.y), Math.abs(max.x), Math.abs(max.y));
  if (!(farthest <= LARGEST)) {
    return refused(
      'drawing-too-large',
      `The drawing reaches ${farthest.toPrecision(3)} mm from its zero; at most ${LARGEST} mm are read. Is its unit right?`,
    );
  }
  // Anything counted in inches, feet or thousandths of them.
  const inches = rough.mmPerUnit / MM_PER_INCH;
  const isInch = [1, 12, 36, 0.001, 1e-6].some((k) => Math.abs(inches / k - 1) < 1e-9);
  return {
    kind: 'read',
    drawing: {
      strokes,
      unit: isInch ? 'inch' : 'mm',
      mmPerUnit: rough.mmPerUnit,
      leftOut,
      fit: rough.fit,
    },
    findings,
  };
};
