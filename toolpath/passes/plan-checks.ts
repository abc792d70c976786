import type { Finding, Part, Unit } from '../../sketch/part/part.ts';
import type { Slab } from '../../sketch/part/solid.ts';
import { areaText, placeFigure, roundText } from '../../sketch/part/units.ts';
import { difference } from '../../sketch/shape/boolean.ts';
import { components } from '../../sketch/shape/components.ts';
import type { Point3 } from '../../sketch/shape/point.ts';
import { type Region, regionArea, regionBox, segmentsOf, signedDistance } from '../../sketch/shape/region.ts';
import type { Cutter } from '../machine/cutter.ts';
import type { MachineProfile } from '../machine/profile.ts';
import { SAME_WIDTH } from '../route/clearances.ts';
import { webOf } from '../route/release.ts';
import type { JobStep, Route } from '../route/route.ts';
import { packingFindings } from './packing-checks.ts';
import type { Move, Pass, PlannedSetup } from './pass.ts';
import { plateFindings } from './plate-checks.ts';
import { placeOf, type Scene } from './scene.ts';
import { stockBox, type Workpiece } from './workpiece.ts';

/** What a route has wrong before anything is planned: unknown cutters, webs nobody releases, releases too early. */
export const routeFindings = (part: Part, route: Route, profile: MachineProfile): readonly Finding[] => {
  const findings: Finding[] = [];
  const all = route.setups.flatMap((setup) => setup.steps.map((step) => ({ step, setup: setup.number })));
  const seen = new Set<string>();
  all.forEach(({ step, setup }, index) => {
    const say = (code: string, severity: Finding['severity'], message: string): void => {
      findings.push({ code, severity, message, feature: step.name, setup });
    };
    if (seen.has(step.name)) say('step-named-twice', 'error', `Two job steps are called "${step.name}".`);
    seen.add(step.name);
    const cutter = profile.cutters.find((c) => c.name === step.cutter);
    if (!cutter) {
      say('cutter-not-owned', 'error', `${step.name}: the machine profile has no cutter "${step.cutter}".`);
      return;
    }
    const width = widthOf(part, step);
    if (width !== null && cutter.diameter > width + SAME_WIDTH) {
      say(
        'cutter-too-wide',
        'error',
        `${step.name}: a cutter of ${roundText(cutter.diameter, part.unit)} does not enter an opening of ${roundText(width, part.unit)}.`,
      );
    }
    if (
      webOf(step) > 0 &&
      !all.slice(index + 1).some(({ step: s }) => s.kind === 'release' && s.of === step.name)
    ) {
      say(
        'web-never-released',
        'error',
        `${step.name} leaves a support web that no later job step releases.`,
      );
    }
    if (step.kind === 'release' && !all.slice(0, index).some(({ step: s }) => s.name === step.of)) {
      say(
        'release-too-early',
        'error',
        `${step.name} releases "${step.of}", which has not been cut by then.`,
      );
    }
  });
  return findings;
};

const widthOf = (part: Part, step: JobStep): number | null => {
  switch (step.kind) {
    case 'fork':
      return part.forks.find((f) => f.name === step.fork)?.width ?? null;
    case 'slot':
      return part.slots.find((s) => s.name === step.slot)?.width ?? null;
    case 'pocket': {
      const hole = part.holes.find((h) => h.name === step.hole);
      return hole?.purpose === 'counterbored' ? hole.boreDiameter : null;
    }
    default:
      return null;
  }
};

/** A jaw that bears on less than this length is a line contact, mm. Common practice, no source. */
const LEAST_CONTACT = 4;

/** What holds the work, and how well the jaws bear. */
export const holdFindings = (
  scene: Scene,
  work: Workpiece,
  cutters: readonly Cutter[],
): readonly Finding[] => {
  const { jaws, setup, part } = scene;
  const { hold } = setup;
  const box = { setup: setup.number };
  if (hold.kind === 'plate') return plateFindings(scene, hold, work, cutters);
  if (jaws === null || jaws.contact === null || jaws.faces === null) {
    return [
      {
        ...box,
        code: 'nothing-gripped',
        severity: 'error',
        message: `Setup ${setup.number}: the jaws close on nothing.`,
      },
    ];
  }
  const findings: Finding[] = [...packingFindings(scene, hold, work)];
  const least = Math.min(jaws.contact.near, jaws.contact.far);
  if (least < LEAST_CONTACT) {
    findings.push({
      ...box,
      code: 'poor-contact',
      severity: 'warning',
      message: `Setup ${setup.number}: one jaw bears on only ${roundText(least, part.unit)} of flat; use soft jaws, pack it, or hold it down another way.`,
    });
  }
  if (hold.grip < 1.5 && hold.grip < part.bar.thickness / 3) {
    findings.push({
      ...box,
      code: 'small-grip',
      severity: 'note',
      message: `Setup ${setup.number}: only ${roundText(hold.grip, part.unit)} is held; keep the passes light.`,
    });
  }
  return findings;
};

/** What a planned job step has wrong: too deep for its flutes, or a through cut over a parallel. */
export const checkStep = (
  scene: Scene,
  work: Workpiece,
  step: JobStep,
  cutter: Cutter,
  passes: readonly Pass[],
): readonly Finding[] => {
  const findings: Finding[] = [];
  const { unit } = scene.part;
  const box = stockBox(work.stock);
  const deepest = passes.reduce((low, pass) => Math.min(low, pass.z), 0);
  const depth = Math.min(box.max.z - deepest, box.max.z - box.min.z);
  if (step.kind !== 'tap' && step.kind !== 'spot' && depth > cutter.fluteLength + 1e-6) {
    findings.push({
      code: 'flutes-too-short',
      severity: 'error',
      feature: step.name,
      setup: scene.setup.number,
      message: `${step.name} is ${roundText(depth, unit)} deep, but ${cutter.name} cuts only ${roundText(cutter.fluteLength, unit)} beside itself.`,
    });
  }
  findings.push(...parallelFindings(scene, step, cutter, passes, box.min.z));
  return findings;
};

const parallelFindings = (
  scene: Scene,
  step: JobStep,
  cutter: Cutter,
  passes: readonly Pass[],
  underside: number,
): readonly Finding[] => {
  const { hold } = scene.setup;
  if (hold.kind !== 'vice' || !hold.parallels) return [];
  const { parallels } = hold;
  const { bar } = scene.part;
  const middle = placeOf(scene.frame, { x: bar.corner.x, y: bar.corner.y + bar.width / 2 }).y;
  const below = passes.flatMap((pass) => pass.moves.flatMap((move) => placesBelow(move, underside)));
  let worst: { shift: number; y: number; x: number } | null = null;
  for (const place of below) {
    for (const side of [-1, 1]) {
      const inner = parallels.offset - parallels.thickness / 2;
      const gap = side * (place.y - middle) + cutter.diameter / 2 - inner;
      const beyond =
        side * (place.y - middle) - cutter.diameter / 2 > parallels.offset + parallels.thickness / 2;
      if (gap > 1e-6 && !beyond && (worst === null || gap > worst.shift)) worst = { shift: gap, ...place };
    }
  }
  if (worst === null) return [];
  const { unit } = scene.part;
  const farther = worst.shift + BESIDE_PARALLEL;
  // The jaws close on the bar, so that a parallel cannot stand out beside it.
  const room = bar.width / 2 - (parallels.offset - parallels.thickness / 2) - farther;
  const remedy =
    room >= parallels.thickness
      ? `set that parallel ${roundText(farther, unit)} farther out, or use a thinner one`
      : room >= THINNEST_PARALLEL
        ? `use one ${roundText(room, unit)} thick or thinner there, set against the jaw`
        : 'there is no room for one between the cut and the jaw: hold the work another way there';
  return [
    {
      code: 'over-parallel',
      severity: 'warning',
      feature: step.name,
      setup: scene.setup.number,
      message: `${step.name} goes through above a parallel; ${remedy}.`,
    },
  ];
};

/** Room between a cut and a parallel, and the thinnest parallel there is, mm. Common practice, no source. */
const BESIDE_PARALLEL = 0.2;
const THINNEST_PARALLEL = 1.5;

const placesBelow = (move: Move, z: number): readonly { x: number; y: number }[] => {
  switch (move.kind) {
    case 'drill':
      return move.depth < z - 1e-6 ? [move.at] : [];
    case 'feed':
    case 'arc':
      return move.to.z < z - 1e-6 ? [move.to] : [];
    default:
      return [];
  }
};

/** Material that touches the part and is still there when every job step is done, mm². */
const LEAST_LEFT = 0.02;

/** What no planned cutter reached: by area and place, slab by slab. Loose frame and offcuts do not count. */
export const leftoverFindings = (
  stock: readonly Slab[],
  wanted: readonly Slab[],
  unit: Unit,
): readonly Finding[] => {
  const found = new Map<string, Finding>();
  for (const slab of stock) {
    for (const want of wanted) {
      if (Math.min(slab.top, want.top) - Math.max(slab.bottom, want.bottom) < 1e-3) continue;
      for (const left of components(difference(slab.region, want.region))) {
        const area = regionArea(left);
        const box = regionBox(left);
        if (area < LEAST_LEFT || box === null || !touches(left, want.region)) continue;
        const at = { x: (box.min.x + box.max.x) / 2, y: (box.min.y + box.max.y) / 2 };
        const key = `${at.x.toFixed(1)},${at.y.toFixed(1)}`;
        if (found.has(key)) continue;
        found.set(key, {
          code: 'not-reached',
          severity: 'note',
          at: { ...at, z: slab.bottom },
          message: `About ${areaText(area, unit)} is left at X ${placeFigure(at.x, unit)} Y ${placeFigure(at.y, unit)} where no chosen cutter reaches: file it, or allow a corner radius there.`,
        });
      }
    }
  }
  return [...found.values()];
};

const touches = (piece: Region, part: Region): boolean =>
  segmentsOf(piece).some((s) => Math.abs(signedDistance(part, s.from)) < 1e-3);

/** What a setup asks of the machine's travels beyond what it has: X and Y of every motion, and Z over the clear height. */
export const travelFindings = (
  planned: PlannedSetup,
  profile: MachineProfile,
  unit: Unit,
): readonly Finding[] => {
  const places = planned.steps.flatMap((s) => s.passes.flatMap((p) => p.moves.flatMap(placeOfMove)));
  if (places.length === 0) return [];
  const findings: Finding[] = [];
  for (const axis of ['x', 'y', 'z'] as const) {
    const values = places.map((p) => p[axis]);
    const needed = Math.max(...values) - Math.min(...values);
    const has = profile.travel[axis];
    if (needed > has) {
      findings.push({
        code: 'beyond-travel',
        severity: 'error',
        setup: planned.setup.number,
        message: `Setup ${planned.setup.number} moves ${roundText(needed, unit)} in ${axis.toUpperCase()}; the machine has ${roundText(has, unit)}.`,
      });
    }
  }
  return findings;
};

const placeOfMove = (move: Move): readonly Point3[] => {
  switch (move.kind) {
    case 'rapid':
    case 'feed':
    case 'arc':
      return [move.to];
    case 'drill':
      return [{ ...move.at, z: move.depth }];
    case 'stop':
      return [];
  }
};
