import { cutterBending, cutterStress } from './cutter-bending.ts';
import type { ForcePlace, PassForce, SurveyPass } from './force-survey.ts';
import type { HeldWidth } from './grip.ts';
import { otherHoldFactors } from './other-holds.ts';
import type { PassSurvival, SurvivalSetup, SurvivalTerms } from './pass-survival.ts';
import { type HoldFactors, holdFactors, type Load } from './vice-hold.ts';

/** Clamping force of a small vice done up firmly by hand, N. Value from memory. */
export const FIRM = 8000;
/** Steel on steel, dry. Value from memory. */
export const FRICTION = 0.15;
/** Length of an endmill out of the collet beyond its flutes, mm. Common practice, no source. */
const BEYOND_FLUTES = 4;

const stickOutOf = ({ cutter }: SurveyPass): number => cutter.fluteLength + BEYOND_FLUTES;

/** How far the cutter's tip gives across its travel as its teeth leave a wall, mm; 0 for drills. */
export const cutterGive = (pass: SurveyPass, { atWall, depth }: ForcePlace): number =>
  pass.cutter.kind === 'endmill' ? cutterBending(pass.cutter, atWall.across, stickOutOf(pass), depth / 2) : 0;

/** How much of the worst force is still there as teeth leave a wall, 0 to 1. */
export const shareAtWall = ({ atWall, most }: ForcePlace): number => (most > 0 ? atWall.most / most : 1);

/** The worst that a pass does to its cutter. */
export const cutterLoad = (pass: SurveyPass, { places }: PassForce): PassSurvival['cutter'] => {
  if (pass.cutter.kind !== 'endmill') return { bend: 0, stress: 0 };
  let [bend, stress] = [0, 0];
  for (const place of places) {
    const height = place.depth / 2;
    bend = Math.max(bend, cutterBending(pass.cutter, place.most, stickOutOf(pass), height));
    stress = Math.max(stress, cutterStress(pass.cutter, place.most, stickOutOf(pass), height));
  }
  return { bend, stress };
};

/** The factors of the place that asks most of the hold; null where nothing is cut. */
export const holdLoad = (
  setup: SurvivalSetup,
  held: HeldWidth,
  { places }: PassForce,
  terms: Pick<SurvivalTerms, 'clamp' | 'friction'>,
): HoldFactors | null => {
  const factors = factorsOf(setup, held, terms);
  const all = places.map((place) =>
    factors({
      push: { along: place.push.x, left: place.push.y, up: place.push.z },
      inPlane: place.most,
      above: Math.max(0, place.at.z + place.depth / 2 - held.jawTop),
      overhang:
        held.plate === null
          ? Math.abs(place.at.x - held.middle)
          : Math.hypot(place.at.x - held.middle, place.at.y - held.plate.middleY),
      ...(held.plate && {
        lever: { x: place.at.x - held.middle, y: place.at.y - held.plate.middleY },
      }),
    }),
  );
  return all.reduce<HoldFactors | null>(
    (worst, f) => (worst === null || f.least < worst.least ? f : worst),
    null,
  );
};

/** How a setup's hold is judged against one load. */
const factorsOf = (
  { hold }: SurvivalSetup,
  held: HeldWidth,
  { clamp = FIRM, friction = FRICTION }: Pick<SurvivalTerms, 'clamp' | 'friction'>,
): ((load: Load) => HoldFactors) => {
  if (hold.kind === 'vice') {
    const vice = { clamp, friction, grip: hold.grip, contact: held.contact, width: held.across };
    return (load) => holdFactors(vice, load);
  }
  const by = hold.fastening.kind;
  const other = held.plate?.hold;
  // Held in no way that is known: it bears nothing.
  if (other === undefined) return () => ({ slip: 0, lift: 0, tip: 0, twist: 0, least: 0, by });
  const own = other.kind === 'tape and glue' ? other : { ...other, friction };
  return (load) => ({ ...otherHoldFactors(own, load), by });
};
