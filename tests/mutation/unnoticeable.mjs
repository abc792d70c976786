import { UNNOTICEABLE_IN_PROOFS } from './unnoticeable-proof.mjs';

/**
 * Ways to spoil the code that change nothing anybody could notice, each with its reason. They are left out of the
 * sample. `line` is the whole line on which `was` begins; without `now` whatever is put in its place is meant. Each may
 * be a pattern, and `now` a question about what is put there and what was.
 */
export const UNNOTICEABLE = [
  // The words of a cycle put together are only held against those of the last one.
  { file: 'gcode/program/typist.ts', line: "const cycle = own.join(' ');", was: "' '" },

  ...UNNOTICEABLE_IN_PROOFS,

  // Only where a drop is to the last bit what one round sinks, and then both ways sink on just that round.
  {
    file: 'toolpath/passes/entry.ts',
    line: 'if (drop > pathLength(round) * Math.tan(Math.min(terms.ramp, STEEPEST)))',
    was: 'drop > pathLength(round) * Math.tan(Math.min(terms.ramp, STEEPEST))',
    now: 'drop >= pathLength(round) * Math.tan(Math.min(terms.ramp, STEEPEST))',
  },
  // One halving more of what forty have brought under a billionth of a millimetre.
  {
    file: 'toolpath/passes/peel-corners.ts',
    line: 'for (let k = 0; k < 40; k++) {',
    was: 'k < 40',
    now: 'k <= 40',
  },
  // Only where a halved step is a hundredth to the last bit.
  {
    file: 'toolpath/passes/front-hole.ts',
    line: 'for (let fine = step / 2; fine > 0.01 && best !== null; fine /= 2) {',
    was: 'fine > 0.01',
    now: 'fine >= 0.01',
  },
  // Only where what could be spared is a tenth to the last bit.
  {
    file: 'toolpath/passes/tail.ts',
    line: 'if (spare < EDGE || whole - spare < EDGE) return path;',
    was: 'spare < EDGE',
    now: 'spare <= EDGE',
  },

  // What is exactly as far off as a tolerance forgives may be taken for either.
  ...[
    ['<', '<='],
    ['>', '>='],
  ].flatMap(([plain, equal]) => {
    const told = (sign) => new RegExp(`^[^<>]* ${sign} [^<>]*\\b(1e-\\d+|CLOSED|SAME_HEIGHT)\\)*$`);
    return [
      { file: /^toolpath\/passes\//, line: /^/, was: told(plain), now: told(equal) },
      { file: /^toolpath\/passes\//, line: /^/, was: told(equal), now: told(plain) },
    ];
  }),
  // So is a speck of area, which only reckoning could make exactly so large.
  {
    file: /^toolpath\/passes\//,
    line: /regionArea/,
    was: /^regionArea\(.*< (NO_AREA|ALIKE|MOSTLY)/,
    now: /<=/,
  },
  {
    file: /^toolpath\/passes\//,
    line: /regionArea/,
    was: /^regionArea\(.*> (NO_AREA|NO_CORNER|NOTHING_LEFT|STILL_LEFT|0\.005)$/,
    now: />=/,
  },
  // A sense is 1 or −1, and no arc has no sweep and no contour no area.
  { file: /^toolpath\/passes\//, line: /(sense|side) > 0/, was: /^(sense|side) > 0$/, now: />= 0$/ },
  { file: /^toolpath\/passes\//, line: /sweep > 0/, was: /sweep > 0$/, now: />= 0$/ },
  { file: /^toolpath\/passes\//, line: /sweep < 0/, was: /sweep < 0$/, now: /<= 0$/ },
  { file: /^toolpath\/passes\//, line: /contourArea/, was: /^contourArea\(.*\) > 0$/, now: />= 0$/ },
  { file: /^toolpath\/passes\//, line: /contourArea/, was: /^contourArea\(.*\) < 0$/, now: /<= 0$/ },
  // Straight beside the end of a line or an arc the end itself is as near.
  { file: 'toolpath/passes/near-segments.ts', line: /^if \(along > 0/, was: 'along > 0', now: 'along >= 0' },
  {
    file: 'toolpath/passes/near-segments.ts',
    line: /^if \(along > 0/,
    was: 'along < l2',
    now: 'along <= l2',
  },
  {
    file: 'toolpath/passes/near-segments.ts',
    line: /^const (afterStart|beforeEnd) = /,
    was: /^sign \* .* >= 0$/,
    now: /^sign \* .* > 0$/,
  },
  // Only the sign is asked for, and dividing one by the other keeps it.
  {
    file: 'toolpath/passes/near-segments.ts',
    line: /^const (afterStart|beforeEnd) = /,
    was: /^sign \* /,
    now: /^sign \/ /,
  },
  // Of half a round both ends lie on one line through its middle: what is behind the one is before the other.
  {
    file: 'toolpath/passes/near-segments.ts',
    line: /^return Math\.abs\(s\.sweep\)/,
    was: 'Math.abs(s.sweep) > Math.PI',
    now: 'Math.abs(s.sweep) >= Math.PI',
  },
  // What is gone of the stock is kept only for those laps that follow, and for a feed that there is: else it is for nothing.
  {
    file: 'toolpath/passes/runs.ts',
    line: /^if \(left\.length > 0 && goesThrough/,
    was: /^left\.length > 0( && goesThrough\(level\))?$/,
    now: /^true$|\|\||>= 0/,
  },
  // Halvings more of what has been halved under anything that is told.
  {
    file: 'toolpath/passes/peel.ts',
    line: 'for (let i = 0; i < 50; i++) {',
    was: 'i < 50',
    now: 'i <= 50',
  },
  // A step that is as large as it may be grows no more, and its count begins anew for nothing.
  {
    file: 'toolpath/passes/fronts.ts',
    line: 'if (good >= PATIENCE && step < most) {',
    was: 'step < most',
    now: /^step <= most$|^true$/,
  },
  // Only where a way is to the last bit so many times as long as a path.
  {
    file: 'toolpath/passes/entry.ts',
    line: 'if (way > MOST_TRIPS * along) {',
    was: 'way > MOST_TRIPS * along',
    now: 'way >= MOST_TRIPS * along',
  },
  // Walls alike in thickness have been told by then.
  { file: 'toolpath/passes/thin-side.ts', line: /on > away/, was: 'on > away', now: 'on >= away' },
  // Beside nothing nothing is left: that is found, for nothing, a few lines on.
  {
    file: 'toolpath/passes/clearing.ts',
    line: /^if \(isEmpty\(near\)\)/,
    was: 'isEmpty(near)',
    now: 'false',
  },
  // Each slab's text begins with its heights, so that none could be taken for the end of the one before.
  { file: 'toolpath/passes/plan-memory.ts', line: /slabText\)\.join/, was: "'\\n'", now: '""' },
];
