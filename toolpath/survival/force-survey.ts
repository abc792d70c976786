import type { Point3 } from '../../sketch/shape/point.ts';
import type { Cutter } from '../machine/cutter.ts';
import type { PassKind } from '../passes/pass.ts';
import type { Stamp } from '../removal/bite.ts';
import { type CutPath, cutPath } from '../removal/cut-path.ts';
import { recordPath } from '../removal/cut-record.ts';
import type { HeightMap } from '../removal/height-map.ts';
import type { Stroke } from '../removal/stroke.ts';
import { sweep } from '../removal/sweep.ts';
import { type Frame, toPart, toProgram } from '../route/frame.ts';
import type { CuttingForceData } from './cutting-force.ts';
import { drillingForce } from './drilling-force.ts';
import { buriedAngle, type CutStock, engagementAt } from './engagement.ts';
import { type MillingForce, millingForce, type Push } from './milling-force.ts';

/** One motion of a pass with its feed, mm/min. */
export interface SurveyMotion {
  readonly stroke: Stroke;
  readonly feed: number;
}

/** A pass to be surveyed: its motions, cutter and turns a minute, and how the work lies. */
export interface SurveyPass {
  readonly label: string;
  readonly setup: number;
  /** The job step it belongs to, and its number among all passes of the plan from 0; null for one that was not planned. */
  readonly step: string;
  readonly still: number | null;
  readonly kind: PassKind;
  readonly cutter: Cutter;
  readonly speed: number;
  readonly frame: Frame;
  readonly motions: readonly SurveyMotion[];
  /** From the start of the first program to the start and end of this pass, s; 0 where it is not known. */
  readonly time?: { readonly from: number; readonly to: number };
}

/** A place of a pass with the force there. Place in program coordinates, mm; forces in N. */
export interface ForcePlace {
  readonly at: Point3;
  /** Direction of travel, radians. */
  readonly travel: number;
  /** Force on the work in program coordinates at the worst moment of a turn. */
  readonly push: { readonly x: number; readonly y: number; readonly z: number };
  readonly most: number;
  /** Force at the moments when a tooth leaves a wall (`millingForce`): across the travel, and in the plane. */
  readonly atWall: MillingForce['atWall'];
  /** Depth of material beside the cutter there, mm. */
  readonly depth: number;
  readonly buried: number;
}

export interface PassForce extends Pick<SurveyPass, 'label' | 'setup' | 'step' | 'still' | 'kind'> {
  /**
   * Where the pass cuts, the greatest force of every few millimetres, strongest first; empty when nothing was cut.
   * Which of them bend the work most is for `loadPlaces` to say.
   */
  readonly places: readonly ForcePlace[];
  readonly most: number;
  readonly torque: number;
  readonly power: number;
  readonly thrust: number;
  /** Thickest chip, mm: outside the force table's span the estimate is carried on beyond it. */
  readonly chip: number;
  readonly removed: number;
}

/** Distance between looks along a cut, mm. */
const LOOK_EVERY = 1;
/** Moves shorter than this are not looked at, mm. */
const SHORTEST = 0.1;
/** One place is kept of every square of this side, mm. */
const APART = 3;
const HELIX = (30 * Math.PI) / 180;

/**
 * Walks a pass through the stock as it is at that moment (which is changed in place) and estimates the force from
 * how the cutter is really buried there. `stamp` marks every cell that it cuts.
 */
export const surveyPass = (
  stock: CutStock,
  pass: SurveyPass,
  data: CuttingForceData,
  stamp?: Stamp,
): PassForce => {
  const { map } = stock;
  const places: ForcePlace[] = [];
  let torque = 0;
  let power = 0;
  let thrust = 0;
  let chip = 0;
  let removed = 0;
  for (const { stroke, feed } of pass.motions) {
    const path = pathOf(pass, stroke);
    if (stroke.kind !== 'rapid' && pass.speed > 0) {
      if (pass.cutter.kind === 'endmill') {
        for (const look of looksAlong(stroke)) {
          const engagement = engagementAt(stock, path, look.t);
          const force = millingForce(engagement, {
            diameter: pass.cutter.diameter,
            flutes: pass.cutter.flutes,
            toothLoad: feed / (pass.speed * pass.cutter.flutes),
            speed: pass.speed,
            helix: HELIX,
            data,
          });
          if (force.most <= 0) continue;
          torque = Math.max(torque, force.torque);
          power = Math.max(power, force.power);
          chip = Math.max(chip, force.chip);
          places.push(placeOf(look, force, engagement.depth, buriedAngle(engagement)));
        }
      }
    }
    const middle = pass.cutter.kind === 'drill' ? middleOf(map, pass.frame, stroke.to) : stroke.to;
    const bite = cutMotion(stock, pass, stroke, path, stamp);
    removed += bite.volume;
    if (pass.cutter.kind === 'drill' && bite.volume > 0.01) {
      const drilling = drillingForce(
        pass.cutter.diameter,
        feed / Math.max(1, pass.speed),
        pass.cutter.pointAngle,
        pass.speed,
        data,
      );
      torque = Math.max(torque, drilling.torque);
      power = Math.max(power, drilling.power);
      thrust = Math.max(thrust, drilling.thrust);
      places.push({
        at: middle,
        travel: 0,
        push: { x: 0, y: 0, z: -drilling.thrust },
        most: 0,
        atWall: { across: 0, most: 0 },
        depth: 0,
        buried: 2 * Math.PI,
      });
    }
  }
  const most = places.reduce((worst, place) => Math.max(worst, place.most), 0);
  const kept = strongest(places);
  const { label, setup, step, still, kind } = pass;
  return { label, setup, step, still, kind, places: kept, most, torque, power, thrust, chip, removed };
};

/** Takes out of the stock what a pass cuts, without looking at its forces. */
export const cutPass = (stock: CutStock, pass: SurveyPass): void => {
  for (const { stroke } of pass.motions) cutMotion(stock, pass, stroke, pathOf(pass, stroke));
};

const pathOf = ({ cutter, frame, setup }: SurveyPass, stroke: Stroke): CutPath =>
  cutPath({ ...stroke, line: 0 }, cutter, frame, { setup, pass: 0 });

const cutMotion = (
  stock: CutStock,
  pass: SurveyPass,
  stroke: Stroke,
  path: CutPath,
  stamp?: Stamp,
): { readonly volume: number } => {
  const bite = sweep(stock.map, stroke, pass.cutter, pass.frame, stamp ? { stamp } : {});
  recordPath(stock.record, path);
  stock.before = path;
  return bite;
};

/** A place moved to half the height of the material there. */
const middleOf = (map: HeightMap, frame: Frame, at: Point3): Point3 => {
  const p = toPart(frame, at);
  const column = Math.floor((p.x - map.x0) / map.cell);
  const row = Math.floor((p.y - map.y0) / map.cell);
  const i = row * map.columns + column;
  const inside = column >= 0 && row >= 0 && column < map.columns && row < map.rows;
  if (!inside || map.top[i]! <= map.bottom[i]!) return at;
  return toProgram(frame, { ...p, z: (map.top[i]! + map.bottom[i]!) / 2 });
};

interface Look {
  /** Share of the motion. */
  readonly t: number;
  readonly at: Point3;
  readonly travel: number;
}

const looksAlong = (stroke: Stroke): readonly Look[] => {
  const { from, to, centre, sweep: turn } = stroke;
  const radius = centre ? Math.hypot(from.x - centre.x, from.y - centre.y) : 0;
  const length = centre && turn ? radius * Math.abs(turn) : Math.hypot(to.x - from.x, to.y - from.y);
  // Straight down there is no side to be buried on.
  if (length < SHORTEST) return [];
  const count = Math.max(1, Math.ceil(length / LOOK_EVERY));
  return Array.from({ length: count }, (_, i): Look => {
    const t = (i + 0.5) / count;
    const z = from.z + (to.z - from.z) * t;
    if (!centre || !turn) {
      return {
        t,
        at: { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t, z },
        travel: Math.atan2(to.y - from.y, to.x - from.x),
      };
    }
    const angle = Math.atan2(from.y - centre.y, from.x - centre.x) + turn * t;
    return {
      t,
      at: { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle), z },
      travel: angle + (turn > 0 ? Math.PI / 2 : -Math.PI / 2),
    };
  });
};

const placeOf = (look: Look, force: MillingForce, depths: Float64Array, buried: number): ForcePlace => {
  const { along, left, up }: Push = force.peak;
  const [c, s] = [Math.cos(look.travel), Math.sin(look.travel)];
  return {
    at: look.at,
    travel: look.travel,
    push: { x: along * c - left * s, y: along * s + left * c, z: up },
    most: force.most,
    atWall: force.atWall,
    depth: depths.reduce((a, b) => Math.max(a, b), 0),
    buried,
  };
};

/** The strongest place of every square, strongest first. */
const strongest = (places: readonly ForcePlace[]): readonly ForcePlace[] => {
  const strength = (p: ForcePlace): number => Math.hypot(p.push.x, p.push.y, p.push.z);
  const kept = new Map<string, ForcePlace>();
  for (const place of places) {
    const square = `${Math.floor(place.at.x / APART)}/${Math.floor(place.at.y / APART)}`;
    const there = kept.get(square);
    if (there === undefined || strength(place) > strength(there)) kept.set(square, place);
  }
  return [...kept.values()].sort((a, b) => strength(b) - strength(a));
};
