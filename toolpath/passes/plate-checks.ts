import type { Finding } from '../../sketch/part/part.ts';
import { placeFigure, roundText } from '../../sketch/part/units.ts';
import { union } from '../../sketch/shape/boolean.ts';
import { type Region, segmentsOf, signedDistance } from '../../sketch/shape/region.ts';
import { pointAlong } from '../../sketch/shape/segment.ts';
import type { Cutter } from '../machine/cutter.ts';
import { JAW_CLEARANCE } from '../route/clearances.ts';
import { type Foot, SCREW_HEAD } from '../route/plate.ts';
import type { PlateHold } from '../route/route.ts';
import type { PlacedFoot } from './plate-feet.ts';
import { placeOf, type Scene, undersideAt } from './scene.ts';
import type { Workpiece } from './workpiece.ts';

/** Room that a screw wants in its hole, mm. Common practice, no source. */
const ROOM = 0.1;

/** What is wrong with a plate's screws and clamps on the stock as it is put in. */
export const plateFindings = (
  scene: Scene,
  hold: PlateHold,
  work: Workpiece,
  cutters: readonly Cutter[],
): readonly Finding[] => {
  const { fastening } = hold;
  const { number } = scene.setup;
  const { unit } = scene.part;
  const findings: Finding[] = [];
  const say = (code: string, message: string, severity: Finding['severity'] = 'error'): void => {
    findings.push({ code, severity, setup: number, message: `Setup ${number}: ${message}.` });
  };
  if (fastening.kind === 'tape') return findings;
  const name = fastening.kind === 'screws' ? 'screw' : 'clamp';
  const { feet } = scene.feet;
  if (feet.length === 0) say('nothing-fastened', `the work lies on its plate without a ${name}`);
  if (feet.length === 1) {
    say('one-foot', `one ${name} alone lets the work swing about it; two or more are wanted`, 'warning');
  }
  const outline = outlineOf(scene);
  const round = outlineCutter(scene, cutters);
  for (const foot of feet) {
    const at = placeOf(scene.frame, foot.at);
    const where = `X ${placeFigure(at.x, unit)} Y ${placeFigure(at.y, unit)}`;
    if (foot.hole !== null && fastening.kind === 'screws') {
      const hole = scene.part.holes.find((h) => h.name === foot.hole);
      const { shank } = SCREW_HEAD[fastening.thread];
      if (hole && hole.depth !== null) say('screw-hole-blind', `“${hole.name}” does not go through`);
      else if (hole && hole.diameter < shank + ROOM) {
        say(
          'screw-too-thick',
          `an ${fastening.thread} screw does not go through “${hole.name}”, ⌀ ${roundText(hole.diameter, unit)}`,
        );
      } else if (undersideAt(work, at) !== null) {
        say(
          'screw-hole-not-there',
          `“${foot.hole}” is not drilled yet when the screw is to go through it: drill it in an earlier setup`,
        );
      }
      if (hole && foot.pad <= hole.diameter / 2 + ROOM) {
        say(
          'screw-head-too-small',
          `the head of an ${fastening.thread} screw falls through “${hole.name}”: use a thicker screw or a washer`,
        );
      }
      continue;
    }
    if (undersideAt(work, at) === null) {
      say('foot-on-nothing', `there is no bar left under the ${name} at ${where}`);
    } else if (signedDistance(outline, at) < standsOff(foot)) {
      say('foot-on-part', `the ${name} at ${where} stands on the part: move it out onto the bar beside it`);
    } else if (round !== null && gapTo(outline, foot) < round.diameter + JAW_CLEARANCE) {
      say(
        'foot-too-near',
        `the ${name} at ${where} stands ${roundText(Math.max(0, gapTo(outline, foot)), unit)} off the part, and the ${round.name} that goes round it needs ${roundText(round.diameter + JAW_CLEARANCE, unit)}: move it out, or take a smaller cutter`,
      );
    }
  }
  return findings;
};

/** How far the middle of a foot stays off the part, mm. */
const standsOff = (foot: Foot): number => foot.pad + ROOM;

/** The thickest cutter that goes round the part in this setup; null when none does. */
const outlineCutter = (scene: Scene, cutters: readonly Cutter[]): Cutter | null => {
  const names = scene.setup.steps.flatMap((step) => (step.kind === 'outline' ? [step.cutter] : []));
  return cutters
    .filter((c) => names.includes(c.name))
    .reduce<Cutter | null>((most, c) => (most === null || c.diameter > most.diameter ? c : most), null);
};

/** Looks along each edge of a foot. */
const LOOKS = 24;

/** How near a foot comes to the part, drawing or program alike, mm. */
const gapTo = (outline: Region, foot: PlacedFoot): number =>
  segmentsOf(foot.inProgram).reduce((least, s) => {
    for (let i = 0; i <= LOOKS; i++) {
      least = Math.min(least, signedDistance(outline, pointAlong(s, i / LOOKS)));
    }
    return least;
  }, Number.POSITIVE_INFINITY);

const outlineOf = (scene: Scene): Region => union(scene.bare.map((slab) => slab.region));
