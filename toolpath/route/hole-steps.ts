import type { Face, Finding, Hole, Part, Unit } from '../../sketch/part/part.ts';
import { roundText } from '../../sketch/part/units.ts';
import type { Cutter } from '../machine/cutter.ts';
import type { MachineProfile } from '../machine/profile.ts';
import { endmillsFor, millingTerms } from './choose.ts';
import type { JobStep } from './route.ts';

/** Stock that a drill leaves for a reamer, on the diameter, mm. Common practice, no source. */
const forReamer = (diameter: number): number => (diameter < 3 ? 0.1 : 0.2);

/** Withdraw after this share of the diameter. Common practice, no source. */
const PECK_SHARE = 0.8;

export interface HoleRoute {
  readonly steps: readonly JobStep[];
  readonly findings: readonly Finding[];
}

/** Spot, drill by size, ream, counterbore, tap: for the holes begun from one face. */
export const holeSteps = (part: Part, profile: MachineProfile, face: Face): HoleRoute => {
  const holes = part.holes.filter((hole) => hole.from === face);
  if (holes.length === 0) return { steps: [], findings: [] };
  const suffix = face === 'back' ? ' from the back' : '';
  const findings: Finding[] = [];
  const drills = new Map<Cutter, string[]>();
  const milled: JobStep[] = [];
  const reamers = new Map<Cutter, string[]>();
  const taps = new Map<Cutter, string[]>();
  const spotted: string[] = [];
  const put = (map: Map<Cutter, string[]>, cutter: Cutter, name: string): void => {
    map.set(cutter, [...(map.get(cutter) ?? []), name]);
  };
  for (const hole of holes) {
    const reamer = hole.purpose === 'reamed' ? find(profile, 'reamer', hole.diameter) : null;
    if (hole.purpose === 'reamed' && !reamer)
      findings.push(missing(part.unit, profile, hole, 'reamer', hole.diameter));
    const size = reamer ? hole.diameter - forReamer(hole.diameter) : hole.diameter;
    const drill = reamer ? nearestBelow(profile, size) : find(profile, 'drill', size);
    if (drill) {
      put(drills, drill, hole.name);
      spotted.push(hole.name);
    } else {
      const step = milledHole(part, profile, hole, `mill hole ${hole.name}${suffix}`);
      if (step) milled.push(step);
      else findings.push(missing(part.unit, profile, hole, 'drill', size));
    }
    if (reamer) put(reamers, reamer, hole.name);
    if (hole.purpose === 'counterbored') {
      const step = milledHole(part, profile, hole, `counterbore ${hole.name}${suffix}`);
      if (step) milled.push(step);
      else findings.push(missing(part.unit, profile, hole, 'endmill', hole.boreDiameter));
    }
    if (hole.purpose === 'tapped') {
      const tap = profile.cutters.find(
        (c) => c.kind === 'tap' && sameThread(c.designation, hole.designation),
      );
      if (tap) put(taps, tap, hole.name);
      else
        findings.push({
          code: 'tap-not-owned',
          severity: 'note',
          feature: hole.name,
          message: `No ${hole.designation} tap in the machine profile; the hole is drilled ${roundText(hole.diameter, part.unit)} for it.`,
        });
    }
  }
  const spot = profile.cutters.find((c) => c.kind === 'spot');
  const steps: JobStep[] = [];
  if (spot && spotted.length > 0) {
    steps.push({ kind: 'spot', name: `spot${suffix}`, cutter: spot.name, holes: spotted });
  }
  for (const [cutter, names] of bySize(drills)) {
    const name = `drill ${cutter.diameter.toFixed(1)}${suffix}`;
    steps.push({
      kind: 'drill',
      name,
      cutter: cutter.name,
      holes: names,
      peck: cutter.diameter * PECK_SHARE,
    });
  }
  steps.push(...milled);
  for (const [cutter, names] of bySize(reamers)) {
    steps.push({
      kind: 'ream',
      name: `ream ${cutter.diameter.toFixed(1)}${suffix}`,
      cutter: cutter.name,
      holes: names,
    });
  }
  for (const [cutter, names] of bySize(taps)) {
    steps.push({
      kind: 'tap',
      name: `tap ${cutter.designation ?? cutter.name}${suffix}`,
      cutter: cutter.name,
      holes: names,
    });
  }
  return { steps, findings };
};

const bySize = (map: ReadonlyMap<Cutter, string[]>): readonly (readonly [Cutter, string[]])[] =>
  [...map.entries()].sort((a, b) => a[0].diameter - b[0].diameter);

const find = (profile: MachineProfile, kind: Cutter['kind'], diameter: number): Cutter | null =>
  profile.cutters.find((c) => c.kind === kind && Math.abs(c.diameter - diameter) < 0.015) ?? null;

const nearestBelow = (profile: MachineProfile, diameter: number): Cutter | null =>
  profile.cutters
    .filter((c) => c.kind === 'drill' && c.diameter <= diameter + 0.015 && c.diameter > diameter - 0.35)
    .sort((a, b) => b.diameter - a.diameter)[0] ?? null;

const milledHole = (part: Part, profile: MachineProfile, hole: Hole, name: string): JobStep | null => {
  const across = hole.purpose === 'counterbored' ? hole.boreDiameter : hole.diameter;
  const depth = hole.purpose === 'counterbored' ? hole.boreDepth : (hole.depth ?? part.bar.thickness);
  const cutter = endmillsFor(profile, depth).find((c) => c.diameter <= across * 0.75);
  if (!cutter) return null;
  return {
    kind: 'pocket',
    engagement: null,
    name,
    hole: hole.name,
    cutter: cutter.name,
    ...millingTerms(part.bar.material, cutter),
  };
};

/** "M3 × 0.5", "M3x0.5" and "M3" are one thread. */
const sameThread = (a: string | undefined, b: string): boolean => {
  const plain = (text: string): string => text.toLowerCase().replace(/×/g, 'x').replace(/\s+/g, '');
  if (a === undefined) return false;
  const [x, y] = [plain(a), plain(b)];
  return x === y || y.startsWith(`${x}x`) || x.startsWith(`${y}x`);
};

const missing = (
  unit: Unit,
  profile: MachineProfile,
  hole: Hole,
  kind: Cutter['kind'],
  size: number,
): Finding => {
  const nearest = profile.cutters
    .filter((c) => c.kind === kind)
    .reduce<Cutter | null>(
      (best, c) => (best === null || Math.abs(c.diameter - size) < Math.abs(best.diameter - size) ? c : best),
      null,
    );
  const offer = nearest ? ` The nearest owned is ${roundText(nearest.diameter, unit)}.` : '';
  return {
    code: `${kind}-not-owned`,
    severity: 'error',
    feature: hole.name,
    at: hole.centre,
    message: `${hole.name}: no ${kind} of ${roundText(size, unit)} in the machine profile.${offer}`,
  };
};
