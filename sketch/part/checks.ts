import { checkDepths, checkWalls } from './checks/cuts.ts';
import { checkForks } from './checks/forks.ts';
import { checkLandHeights, checkLandPlaces } from './checks/lands.ts';
import { checkOnePiece, checkPieces, checkWithinBar } from './checks/outline.ts';
import { checkOneBody } from './checks/pieces.ts';
import { reportOn } from './checks/report.ts';
import { outlineOf } from './outline.ts';
import type { Finding, Part } from './part.ts';
import { sizeFindings } from './sizes.ts';

/**
 * What is wrong with a part, whatever it is cut with: features outside the bar or one another, walls and tines thinner
 * than `leastWall`, depths beyond the part, lands that leave nothing, a part in pieces. An error stops making; a
 * warning does not. What a cutter cannot reach is for the route to say.
 */
export const checkPart = (part: Part): readonly Finding[] => {
  const sizes = sizeFindings(part);
  if (sizes.length > 0) return sizes;
  const report = reportOn(part);
  checkPieces(part, report);
  checkLandHeights(part, report);
  // Without sound pieces there is no outline to measure against.
  if (hasError(report.findings)) return report.findings;
  checkWithinBar(part, report);
  const outline = outlineOf(part);
  checkOnePiece(part, outline, report);
  checkDepths(part, report);
  checkLandPlaces(part, outline, report);
  checkForks(part, outline, report);
  checkWalls(part, outline, report);
  if (!hasError(report.findings)) checkOneBody(part, report);
  return report.findings;
};

const hasError = (findings: readonly Finding[]): boolean => findings.some((f) => f.severity === 'error');
