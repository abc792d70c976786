import type { CutLine, SectionPatch } from '../../sketch/canvas/section.ts';
import type { Face, Part } from '../../sketch/part/part.ts';
import { outlineOf, type Solid } from '../../sketch/part/solid.ts';
import { offset } from '../../sketch/shape/offset.ts';
import type { Plan } from '../passes/pass.ts';
import { cellAt, type HeightMap } from '../removal/height-map.ts';
import { fillRegion } from '../removal/raster.ts';
import { section } from '../removal/section.ts';
import { type Still, stillsOf } from './work.ts';

/** What stands along a section line after a pass. */
export interface SectionStill {
  readonly metal: readonly SectionPatch[];
  readonly web: readonly SectionPatch[];
  /** Thinnest web along the line, mm; null where none stands. */
  readonly webLeft: number | null;
}

/** The stock from above after a pass, one byte a cell: how deep in steps, or one of the two marks below. */
export interface StockPicture {
  readonly columns: number;
  readonly rows: number;
  readonly cell: number;
  readonly x0: number;
  readonly y0: number;
  readonly cells: Uint8Array;
}

export const GONE = 255;
/** Added to the depth step where the metal is support web. */
export const WEB = 32;
const STEPS = 8;
/** Heights nearer than this are drawn as one, mm. */
const ONE_HEIGHT = 0.02;
const NOTHING_LEFT = 1e-4;

/** Where a support web may stand: cells of the bar that the finished part has no metal in, near or inside its outline. */
export const webMask = (map: HeightMap, part: Part, solid: Solid, plan: Plan): Uint8Array => {
  const mask = new Uint8Array(map.columns * map.rows);
  const outline = outlineOf(part);
  fillRegion(map, outline, (first, last) => mask.fill(1, first, last + 1));
  for (const { step, cutter } of plan.setups.flatMap((s) => s.steps)) {
    if (step.kind !== 'outline' || (step.web <= 0 && step.bridges === null)) continue;
    const groove = offset(outline, cutter.diameter + step.wallAllowance);
    fillRegion(map, groove, (first, last) => mask.fill(1, first, last + 1));
  }
  for (const slab of solid.slabs)
    fillRegion(map, slab.region, (first, last) => mask.fill(0, first, last + 1));
  return mask;
};

/**
 * After each pass, the thickest support web that a job step means to leave and none has yet released, mm; 0 where no
 * job step has begun one.
 */
export const websStanding = (plan: Plan): readonly number[] => {
  const standing = new Map<string, number>();
  const stills = stillsOf(plan);
  return stills.map((still) => {
    const { step } = still.step;
    if (step.kind === 'release' && isLast(stills, still)) standing.delete(step.of);
    if ((step.kind === 'fork' || step.kind === 'slot' || step.kind === 'outline') && step.web > 0) {
      standing.set(step.name, step.web);
    }
    if (step.kind === 'outline' && step.bridges) standing.set(step.name, step.bridges.height);
    return Math.max(0, ...standing.values());
  });
};

const isLast = (stills: readonly Still[], still: Still): boolean =>
  stills[still.index + 1]?.step !== still.step;

export const sectionStill = (
  map: HeightMap,
  cut: CutLine,
  mask: Uint8Array,
  standing: number,
): SectionStill => {
  const samples = section(map, cut.from, cut.to);
  const metal: SectionPatch[] = [];
  const web: SectionPatch[] = [];
  let webLeft: number | null = null;
  let run: { from: number; to: number; bottom: number; top: number; web: boolean } | null = null;
  const close = (): void => {
    if (!run) return;
    const { web: isWeb, ...patch } = run;
    (isWeb ? web : metal).push(patch);
    run = null;
  };
  const half = samples.length > 1 ? (samples[1]!.s - samples[0]!.s) / 2 : 0;
  for (const { s, top, bottom } of samples) {
    const thick = top - bottom;
    if (thick <= NOTHING_LEFT) {
      close();
      continue;
    }
    const share = s / Math.hypot(cut.to.x - cut.from.x, cut.to.y - cut.from.y);
    const index = cellAt(
      map,
      cut.from.x + (cut.to.x - cut.from.x) * share,
      cut.from.y + (cut.to.y - cut.from.y) * share,
    );
    const isWeb = index >= 0 && mask[index] === 1 && thick <= standing + ONE_HEIGHT;
    if (isWeb) webLeft = Math.min(webLeft ?? thick, thick);
    const same =
      run !== null &&
      run.web === isWeb &&
      Math.abs(run.top - top) < ONE_HEIGHT &&
      Math.abs(run.bottom - bottom) < ONE_HEIGHT;
    if (run && same) run.to = s + half;
    else {
      close();
      run = { from: s - half, to: s + half, bottom, top, web: isWeb };
    }
  }
  close();
  return { metal, web, webLeft };
};

/** The stock as one looks down on it: depth below the face that is up, in even steps. */
export const stockPicture = (
  map: HeightMap,
  face: Face,
  thickness: number,
  mask: Uint8Array,
  standing: number,
): StockPicture => {
  const { columns, rows, cell, x0, y0, top, bottom } = map;
  const cells = new Uint8Array(columns * rows);
  for (let i = 0; i < cells.length; i++) {
    const thick = top[i]! - bottom[i]!;
    if (thick <= NOTHING_LEFT) {
      cells[i] = GONE;
      continue;
    }
    const deep = face === 'front' ? thickness - top[i]! : bottom[i]!;
    const step = deep < 1e-3 ? 0 : Math.min(STEPS - 1, 1 + Math.floor((deep / thickness) * (STEPS - 1)));
    cells[i] = step + (mask[i] === 1 && thick <= standing + ONE_HEIGHT ? WEB : 0);
  }
  return { columns, rows, cell, x0, y0, cells };
};
