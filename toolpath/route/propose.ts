import type { Finding, Fork, Part } from '../../sketch/part/part.ts';
import { outlineOf } from '../../sketch/part/solid.ts';
import { lengthText } from '../../sketch/part/units.ts';
import { difference } from '../../sketch/shape/boolean.ts';
import { perimeter, rectangle, regionArea, regionBox } from '../../sketch/shape/region.ts';
import { hasSlack, type MachineProfile } from '../machine/profile.ts';
import { endmillsFor, millingTerms, outlineCutters, slotCutter } from './choose.ts';
import { JAW_CLEARANCE, OVERCUT, OVERLAP, RAIL } from './clearances.ts';
import { GRIP_SHARE, gripOnBar, gripTurnedOver } from './holding.ts';
import { holeSteps } from './hole-steps.ts';
import { releaseOf } from './release.ts';
import type { JobStep, Route, Setup } from './route.ts';
import { noCutter, type Shop, STIFFEST, type Steps } from './shop.ts';
import { lowestBackFloor, thinSteps } from './thinning.ts';

/** The widest cutter for a groove, mm. Common practice, no source. */
const WIDEST_GROOVE = 6;
/** Web under forks and slots: a share of the bar's thickness within limits, mm. Common practice, no source. */
const webFor = (thickness: number): number => Math.min(1.2, Math.max(0.5, Math.round(thickness * 2) / 10));

export interface Proposal {
  readonly route: Route;
  readonly findings: readonly Finding[];
}

/**
 * A route for a part on a machine. A bar with room all round is kept as a frame and the part cut free in a groove that
 * leaves bridges; any other bar is cut from the front down to the jaws, turned over, and finished from the back.
 */
export const proposeRoute = (part: Part, profile: MachineProfile): Proposal => {
  const shop = lookOver(part, profile);
  const front = frontSteps(shop);
  const back = backSteps(shop);
  const releases = [...front.steps, ...back.steps].flatMap((step) => releaseOf(step) ?? []);
  const groove = shop.framed
    ? grooveSteps(shop, back.steps.length > 0 ? 'back' : 'front')
    : { steps: [], findings: [] };
  const last = [...releases, ...groove.steps];
  const findings = [...front.findings, ...back.findings, ...groove.findings];
  const one: Setup = {
    number: 1,
    face: 'front',
    datum: 'left-near',
    workOffset: 'G54',
    hold: shop.firstHold,
    steps: back.steps.length > 0 ? front.steps : [...front.steps, ...last],
  };
  if (back.steps.length === 0) return { route: { setups: [calm(one, profile)] }, findings };
  const two: Setup = {
    number: 2,
    face: 'back',
    datum: 'left-near',
    workOffset: 'G54',
    hold: shop.framed ? shop.firstHold : gripTurnedOver(part, profile, lowestBackFloor(part, back.steps)),
    steps: [...back.steps, ...last],
  };
  // With nothing to do from the front it is laid with its back up at once.
  const setups = one.steps.length === 0 ? [{ ...two, number: 1 }] : [one, two];
  return { route: { setups: setups.map((setup) => calm(setup, profile)) }, findings };
};

/** On slides with lost motion a climbing cutter snatches the work along: cut conventionally (any machinist's handbook). */
const calm = (setup: Setup, profile: MachineProfile): Setup => ({
  ...setup,
  steps: hasSlack(profile)
    ? setup.steps.map((step) => ('direction' in step ? { ...step, direction: 'conventional' } : step))
    : setup.steps,
});

const lookOver = (part: Part, profile: MachineProfile): Shop => {
  const outline = outlineOf(part);
  const box = regionBox(outline);
  const { bar } = part;
  const far = { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width };
  const room = box
    ? Math.min(box.min.x - bar.corner.x, box.min.y - bar.corner.y, far.x - box.max.x, far.y - box.max.y)
    : 0;
  const narrowest = Math.min(
    ...endmillsFor(profile, bar.thickness + OVERCUT)
      .map((c) => c.diameter)
      .filter((d) => d >= 3),
  );
  const framed = room >= grooveWidth(narrowest) + RAIL;
  return {
    part,
    profile,
    outline,
    framed,
    firstHold: framed
      ? gripOnBar(part, profile, 0.6, bar.thickness)
      : gripOnBar(part, profile, GRIP_SHARE, Math.min(bar.thickness, ...part.lands.map((land) => land.top))),
    surplus: regionArea(difference(rectangle(bar.corner, far), outline)) > 0.05,
  };
};

const grooveWidth = (diameter: number): number => diameter + 0.2 + Math.max(0.8, diameter * 0.25);

/** Where the outline from the front stops: just above the jaws. */
const frontFloor = (shop: Shop): number => shop.firstHold.grip + JAW_CLEARANCE;

const frontSteps = (shop: Shop): Steps => {
  const { part, profile } = shop;
  const { bar } = part;
  const steps: JobStep[] = [];
  const findings: Finding[] = [];
  if (!shop.framed) {
    const floor = frontFloor(shop);
    if (bar.sawn > 0) {
      const cutter = endmillsFor(profile, bar.thickness - floor).find((c) => c.diameter <= STIFFEST);
      if (cutter) {
        steps.push({
          kind: 'square',
          name: 'square ends',
          cutter: cutter.name,
          floor,
          ...millingTerms(bar.material, cutter),
        });
      } else findings.push(noCutter('Squaring the ends', bar.thickness, part.unit));
    }
    const outlined = outlineSteps(shop, 'outline', floor, bar.thickness - floor);
    steps.push(...outlined.steps);
    findings.push(...outlined.findings);
  }
  const relieved = thinSteps(shop, 'front');
  steps.push(...relieved.steps);
  findings.push(...relieved.findings);
  const cut = joined(forkSteps(shop), slotSteps(shop, 'front'));
  steps.push(...cut.steps);
  findings.push(...cut.findings);
  const holes = holeSteps(part, profile, 'front');
  return { steps: [...steps, ...holes.steps], findings: [...findings, ...holes.findings] };
};

const backSteps = (shop: Shop): Steps => {
  const { part, profile } = shop;
  const relieved = thinSteps(shop, 'back');
  // Thinning clears the bar round the part as well, as deep as its floor.
  const thinned = Math.max(0, ...part.lands.map((land) => land.bottom));
  const rest =
    shop.framed || !shop.surplus || thinned >= frontFloor(shop)
      ? { steps: [], findings: [] }
      : outlineSteps(shop, 'outline from the back', frontFloor(shop) + OVERLAP, frontFloor(shop) + OVERLAP);
  return joined(relieved, rest, slotSteps(shop, 'back'), holeSteps(part, profile, 'back'));
};

const joined = (...all: readonly Steps[]): Steps => ({
  steps: all.flatMap((s) => s.steps),
  findings: all.flatMap((s) => s.findings),
});

const outlineSteps = (shop: Shop, name: string, floor: number, depth: number): Steps => {
  if (!shop.surplus) return { steps: [], findings: [] };
  const cutters = outlineCutters(shop.profile, shop.outline, depth, STIFFEST);
  if (!cutters) return { steps: [], findings: [noCutter('The outline', depth, shop.part.unit)] };
  const { material } = shop.part.bar;
  const common = { kind: 'outline', engagement: null, floor, clear: 'all', web: 0, bridges: null } as const;
  const steps: JobStep[] = [
    { ...common, name, cutter: cutters.main.name, ...millingTerms(material, cutters.main) },
  ];
  if (cutters.corners) {
    steps.push({
      ...common,
      name: `${name}, corners`,
      cutter: cutters.corners.name,
      ...millingTerms(material, cutters.corners),
    });
  }
  return { steps, findings: [] };
};

const grooveSteps = (shop: Shop, face: 'front' | 'back'): Steps => {
  const { part, profile, outline } = shop;
  const { bar } = part;
  const depth = bar.thickness + OVERCUT;
  const box = regionBox(outline)!;
  const room = Math.min(
    box.min.x - bar.corner.x,
    box.min.y - bar.corner.y,
    bar.corner.x + bar.length - box.max.x,
    bar.corner.y + bar.width - box.max.y,
  );
  const widest = endmillsFor(profile, depth).find(
    (c) => c.diameter <= WIDEST_GROOVE && grooveWidth(c.diameter) + RAIL <= room,
  );
  const cutters = widest ? outlineCutters(profile, outline, depth, widest.diameter) : null;
  if (!cutters) return { steps: [], findings: [noCutter('The groove round the outline', depth, part.unit)] };
  const common = {
    kind: 'outline',
    engagement: null,
    floor: face === 'front' ? 0 : bar.thickness,
    clear: 'groove',
    web: 0,
  } as const;
  const bridges = {
    count: perimeter(outline) > 250 ? 4 : 3,
    length: 3,
    height: Math.min(1.2, bar.thickness * 0.3),
  };
  const steps: JobStep[] = [
    {
      ...common,
      name: 'outline',
      cutter: cutters.main.name,
      bridges,
      ...millingTerms(bar.material, cutters.main),
    },
  ];
  // The bridges of the groove stand clear of inner corners, so the corners need none of their own.
  if (cutters.corners) {
    steps.push({
      ...common,
      name: 'outline, corners',
      cutter: cutters.corners.name,
      bridges: null,
      ...millingTerms(bar.material, cutters.corners),
    });
  }
  return { steps, findings: [] };
};

const forkSteps = (shop: Shop): Steps => {
  const { part, profile } = shop;
  const { bar } = part;
  const web = webFor(bar.thickness);
  const steps: JobStep[] = [];
  const findings: Finding[] = [];
  for (const fork of part.forks) {
    const radius = fork.root.kind === 'round' ? fork.width / 2 : fork.root.cornerRadius;
    const cutter = slotCutter(profile, fork.width, bar.thickness + OVERCUT, radius);
    if (cutter) {
      const terms = millingTerms(bar.material, cutter);
      steps.push({
        kind: 'fork',
        engagement: null,
        name: called('fork', fork.name),
        fork: fork.name,
        web,
        cutter: cutter.name,
        ...terms,
      });
    } else findings.push(noForkCutter(shop, fork, radius));
  }
  return { steps, findings };
};

/** Slots cut from a face; one that goes right through is cut from the front whichever face it names. */
const slotSteps = (shop: Shop, face: 'front' | 'back'): Steps => {
  const { part, profile } = shop;
  const { bar } = part;
  const web = webFor(bar.thickness);
  const steps: JobStep[] = [];
  const findings: Finding[] = [];
  for (const slot of part.slots) {
    if ((slot.depth === null ? 'front' : slot.face) !== face) continue;
    const depth = slot.depth ?? bar.thickness + OVERCUT;
    const cutter = slotCutter(profile, slot.width, depth, slot.width / 2);
    if (cutter) {
      const terms = millingTerms(bar.material, cutter);
      const left = slot.depth === null ? web : 0;
      steps.push({
        kind: 'slot',
        engagement: null,
        name: called('slot', slot.name),
        slot: slot.name,
        web: left,
        cutter: cutter.name,
        ...terms,
      });
    } else findings.push(noCutter(`Slot ${slot.name}`, depth, part.unit));
  }
  return { steps, findings };
};

/** "fork" for a fork called fork, "fork left" for one called left. */
const called = (kind: string, name: string): string =>
  name.toLowerCase().startsWith(kind) ? name : `${kind} ${name}`;

/** Why no cutter makes a fork: its inner corners, its width, or its depth. */
const noForkCutter = (shop: Shop, fork: Fork, radius: number): Finding => {
  const { part, profile } = shop;
  const deep = endmillsFor(profile, part.bar.thickness + OVERCUT);
  const smallest = deep.at(-1);
  if (!smallest || smallest.diameter > fork.width)
    return noCutter(`Fork “${fork.name}”`, part.bar.thickness, part.unit);
  const unit = part.unit;
  return {
    code: 'corner-smaller-than-any-cutter',
    severity: 'error',
    feature: fork.name,
    at: fork.mouth,
    message: `Fork “${fork.name}”: its inner corners are ${lengthText(radius, unit)} in radius, and the smallest endmill that reaches ${lengthText(part.bar.thickness, unit)} deep makes ${lengthText(smallest.diameter / 2, unit)}: give the corners that, or a round root.`,
  };
};
