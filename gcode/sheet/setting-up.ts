import type { Part, Unit } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import type { PlannedSetup } from '../../toolpath/passes/pass.ts';
import { edgeTouch, type TouchedFace } from '../table/edge-finder.ts';
import { figure, unitSign } from '../table/figures.ts';
import type { Table } from '../table/table.ts';
import { columnsOf } from './step-table.ts';
import { harmless } from './svg.ts';

/** Tips that edge finders and wobblers commonly have, mm: 6 and 10, and 0.2 and 0.5 in. Common practice, no source. */
const TIPS: Readonly<Record<Unit, readonly number[]>> = { mm: [4, 6, 10], inch: [5.08, 9.525, 12.7] };

/** The faces the datum is taken from, as the work lies: the corner's own, or left and near for the middle. */
const facesOf = (planned: PlannedSetup): readonly TouchedFace[] => {
  const { datum } = planned.setup;
  return [datum.startsWith('right') ? 'right' : 'left', datum.endsWith('far') ? 'far' : 'near'];
};

const FACE_WORDS: Readonly<Record<TouchedFace, string>> = {
  left: 'left end',
  right: 'right end',
  near: 'near side',
  far: 'far side',
};

/** What to set each axis to when an edge finder touches, for each common tip, halves stated. */
export const settingTable = (part: Part, planned: PlannedSetup): string => {
  const { unit } = part;
  const { stock } = planned;
  const edges = { left: stock.min.x, right: stock.max.x, near: stock.min.y, far: stock.max.y };
  const tips = TIPS[unit];
  const rows = facesOf(planned).map((face) => {
    const touches = tips.map((tip) => edgeTouch(face, edges[face], tip, unit));
    const cells = touches.map((touch) =>
      touch.ok ? `<td class="n">${touch.setting.axis} ${figure(touch.setting.set, unit)}</td>` : '<td></td>',
    );
    const [first] = touches;
    const come = first?.ok ? `; come ${first.setting.approach}` : '';
    const axis = first?.ok ? first.setting.axis : '';
    return `<tr><td>${FACE_WORDS[face]}, at ${axis} ${figure(edges[face], unit)}${harmless(come)}</td>${cells.join('')}<td class="tick"></td></tr>`;
  });
  const heads = tips.map((tip) => `<th class="n">⌀ ${figure(tip, unit)}, half ${figure(tip / 2, unit)}</th>`);
  return `<table class="setting"><thead><tr><th>Edge finder or wobbler, tip in ${unitSign(unit)}; touching, set to</th>${heads.join('')}<th>✓</th></tr></thead><tbody>${rows.join('')}</tbody></table>`;
};

/** How the places below are to be read and gone to. */
export const readingWords = (part: Part, table: Table, planned: PlannedSetup): readonly string[] => {
  const say = (mm: number): string => lengthText(mm, part.unit);
  const lift = `“Lift clear” is the tip ${say(planned.clearHeight)} or more above Z zero.`;
  const { hand } = table;
  if (hand === null) return [lift];
  const stepped = `X, then Y: turn one handwheel to its figure, then the other; so the cutter keeps off the wall. Cusps of no more than ${say(table.cusps.finish)} stay for the file.`;
  if (columnsOf(table, planned.setup.number) !== 'dials') return [lift, stepped];
  const { x, y, z } = hand;
  const dial = (name: string, screw: typeof x): string =>
    `${name} ${say(screw.pitch)} a turn, ${screw.divisions} divisions, slack ${say(screw.backlash)}, figures rise as ${name} ${screw.direction === 'rises' ? 'grows' : 'falls'}`;
  return [
    lift,
    stepped,
    `Dials (${[dial('X', x), dial('Y', y), dial('Z', z)].join('; ')}): set each to 0 t 0 at zero, X and Y arriving with the coordinate growing, Z coming down. Figures are whole turns (t) and divisions from there. “past”: with the tip lifted, turn that far first and come back. ‹: reached turning back in the cut; the slack is in the figure.`,
  ];
};
