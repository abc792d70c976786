import type { Point } from '../../shape/point.ts';
import { contains, type Region, segmentsOf } from '../../shape/region.ts';
import { pointAlong } from '../../shape/segment.ts';
import { SAME_POINT } from '../../shape/tolerance.ts';
import { landRegion } from '../cut-outs.ts';
import { quoted } from '../names.ts';
import type { Part } from '../part.ts';
import { boundarySeparation } from '../separation.ts';
import type { Report } from './report.ts';

/** Heights of lands within the bar and the right way up; lands that touch nothing of the part. */
export const checkLandHeights = (part: Part, report: Report): void => {
  const thickness = part.bar.thickness;
  for (const land of part.lands) {
    const name = `Land ${quoted(land.name)}`;
    if (land.bottom < -SAME_POINT) {
      report.error(
        'land-below-bar',
        `${name} has its bottom ${report.amount(-land.bottom)} below the bar’s back: heights run from 0 to ${report.amount(thickness)}.`,
        land.name,
      );
    }
    if (land.top > thickness + SAME_POINT) {
      report.error(
        'land-above-bar',
        `${name} has its top at ${report.amount(land.top)}, ${report.amount(land.top - thickness)} above the bar’s front.`,
        land.name,
      );
    }
    if (land.top - land.bottom <= SAME_POINT) {
      report.error(
        'land-leaves-nothing',
        `${name} leaves nothing: its top (${report.amount(land.top)}) must lie above its bottom (${report.amount(land.bottom)}).`,
        land.name,
      );
    } else if (land.top - land.bottom < part.leastWall - SAME_POINT) {
      report.error(
        'land-too-thin',
        `${name} is ${report.amount(land.top - land.bottom)} thick, thinner than the ${report.amount(part.leastWall)} asked for.`,
        land.name,
      );
    }
  }
};

export const checkLandPlaces = (part: Part, outline: Region, report: Report): void => {
  for (const land of part.lands) {
    const region = landRegion(land);
    if (region === null) continue;
    const inside = (a: Region, b: Region): boolean => {
      const first = segmentsOf(a)[0];
      return first !== undefined && contains(b, startOf(first));
    };
    const crossing = boundarySeparation(segmentsOf(region), segmentsOf(outline));
    if (
      inside(region, outline) ||
      inside(outline, region) ||
      (crossing !== null && crossing.distance <= SAME_POINT)
    ) {
      continue;
    }
    report.warning(
      'land-outside',
      `Land ${quoted(land.name)} lies outside the part and changes nothing.`,
      land.name,
    );
  }
};

const startOf = (s: Parameters<typeof pointAlong>[0]): Point => pointAlong(s, 0);
