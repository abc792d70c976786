import type { Finding } from '../../sketch/part/part.ts';
import { union } from '../../sketch/shape/boolean.ts';
import { NOTHING, type Region, signedDistance } from '../../sketch/shape/region.ts';
import { type Foot, feetOf, SCREW_HEAD } from '../route/plate.ts';
import type { PlateHold } from '../route/route.ts';
import { placeOf, type Scene, undersideAt } from './scene.ts';
import type { Workpiece } from './workpiece.ts';

/** Room that a screw wants in its hole, mm. Common practice, no source. */
const ROOM = 0.1;

/** What is wrong with a plate's screws and clamps on the stock as it is put in. */
export const plateFindings = (scene: Scene, hold: PlateHold, work: Workpiece): readonly Finding[] => {
  const { fastening } = hold;
  const { number } = scene.setup;
  const findings: Finding[] = [];
  const say = (code: string, message: string, severity: Finding['severity'] = 'error'): void => {
    findings.push({ code, severity, setup: number, message: `Setup ${number}: ${message}.` });
  };
  if (fastening.kind === 'tape') return findings;
  const name = fastening.kind === 'screws' ? 'screw' : 'clamp';
  const feet = feetOf(hold, scene.part.bar);
  if (feet.length === 0) say('nothing-fastened', `the work lies on its plate without a ${name}`);
  if (feet.length === 1) {
    say('one-foot', `one ${name} alone lets the work swing about it; two or more are wanted`, 'warning');
  }
  const outline = outlineOf(scene);
  for (const foot of feet) {
    const at = placeOf(scene.frame, foot.at);
    const where = `X ${at.x.toFixed(1)} Y ${at.y.toFixed(1)}`;
    if (foot.hole !== null && fastening.kind === 'screws') {
      const hole = scene.part.holes.find((h) => h.name === foot.hole);
      const { shank } = SCREW_HEAD[fastening.thread];
      if (hole && hole.depth !== null) say('screw-hole-blind', `“${hole.name}” does not go through`);
      else if (hole && hole.diameter < shank + ROOM) {
        say(
          'screw-too-thick',
          `an ${fastening.thread} screw does not go through “${hole.name}”, ⌀ ${hole.diameter.toFixed(2)}`,
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
    }
  }
  return findings;
};

/** How far the middle of a foot stays off the part, mm. */
const standsOff = (foot: Foot): number => foot.pad + ROOM;

const outlineOf = (scene: Scene): Region => {
  const regions = scene.bare.map((slab) => slab.region);
  return regions.length === 0 ? NOTHING : union(regions);
};
