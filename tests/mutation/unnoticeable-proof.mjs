// Ways to spoil the proof that change nothing anybody could notice, as `unnoticeable.mjs` tells.

/** Whether a comparison only takes in the bound itself now, or leaves it out. */
const bound = (now, was) =>
  now !== was &&
  now.replace(/([<>])=/, '$1') === was.replace(/([<>])=/, '$1') &&
  /^[^<>]*[<>][^<>]*$/.test(was);

export const UNNOTICEABLE_IN_PROOFS = [
  // Walls that are passed over by their boxes for speed alone: to look at one that lies too far off finds nothing.
  { file: 'gcode/proof/distance.ts', line: /^wall\.boxes\[/, was: /^wall\.boxes\[/, now: 'false' },
  { file: 'gcode/proof/distance.ts', line: /^wall\.boxes\[/, was: /^wall\.boxes\[/, now: /&&/ },
  // The same for the part as a whole.
  { file: 'gcode/proof/gouge.ts', line: /^box\[\d\] [<>]/, was: /^box\[/, now: 'false' },
  { file: 'gcode/proof/gouge.ts', line: /^box\[\d\] [<>]/, was: /^box\[/, now: bound },
  { file: 'gcode/proof/gouge.ts', line: 'box === null ||', was: /box\[/, now: 'false' },
  { file: 'gcode/proof/levels.ts', line: /^box\[\d\] [<>]=/, was: /^box\[/, now: 'true' },
  // The same for places on a wall, and for paths over all of it: what is judged then leaves everything as it was.
  { file: 'gcode/proof/walls.ts', line: /^if \(x < x0 - near/, was: /^[xy] [<>]/, now: /^false$|&&/ },
  { file: 'gcode/proof/walls.ts', line: /^if \(x < x0 - near/, was: /^[xy] [<>]/, now: bound },
  { file: 'gcode/proof/walls.ts', line: /^if \(leastDistanceTo/, was: /^leastDistanceTo/, now: /false|>=/ },
  { file: 'gcode/proof/walls.ts', line: /^if \(distanceTo/, was: /^distanceTo.* > /, now: /false|>=/ },
  { file: 'gcode/proof/walls.ts', line: /^if \(lowestTip\(path\) > /, was: /^lowestTip.* > /, now: 'false' },
  // A tip over the back lies under every height of a part, the other way up.
  { file: 'gcode/proof/walls.ts', line: /^if \(lowestTip/, was: "path.face === 'front'", now: 'true' },
  // Squares beyond those that are asked for hold nothing, those beyond the reach are too far off.
  {
    file: 'gcode/proof/walls.ts',
    line: /asked\.[ij][01]/,
    was: /^Math\.\w+\(asked/,
    now: /^Math\.\w+\(asked/,
  },
  // Each slice is asked by itself whether the cutter comes nearer.
  { file: 'gcode/proof/walls.ts', line: /^if \(amount < most\)/, was: 'amount < most', now: /true|<=/ },
  // No part of a cutter comes nearer than all of it, which is asked for next.
  {
    file: 'gcode/proof/walls.ts',
    line: /^if \(amount < short\[/,
    was: /^amount < short\[at \+ i\]!$/,
    now: /true|<=/,
  },
  // The stretch of a level path that lies under a height is all of it.
  {
    file: 'gcode/proof/walls.ts',
    line: /path\.u0 <= height && path\.u1 <= height/,
    was: /^path\.u/,
    now: /^false$|^path\.u[01] < height$/,
  },
  // Of a place that is down to size no slice is told.
  { file: 'gcode/proof/walls.ts', line: /^if \(face\.most\[k\]/, was: /^face\.most/, now: /^false$| < / },
  // All four cells about a place are asked, in whichever order.
  { file: 'gcode/proof/engagement.ts', line: /cellAt\(map, x \+ /, was: /^[xy] \+ \(k/, now: /^[xy] - / },
  // Texts that are only held against one another.
  { file: 'gcode/proof/reach.ts', line: /join\(''\)/, was: /^'(\\n)?'$/ },
  // On a straight way all that is passed lies behind the half of the rim that is looked at.
  {
    file: 'gcode/proof/engagement.ts',
    line: /^const own = /,
    was: /^path\.segment\.kind === 'arc'$/,
    now: 'true',
  },
  // One look more after four thousand; and looked for more finely than is promised.
  { file: 'gcode/proof/gouge.ts', line: /steps < MOST_STEPS/, was: 'steps < MOST_STEPS', now: /<=/ },
  { file: 'gcode/proof/gouge.ts', line: /^const error = /, was: /^Math\.max/, now: /^Math\.min/ },
  // What stays over all that holds the work hits none of it; an uncut map has the extent of its bar.
  { file: 'gcode/proof/prove.ts', line: /^const low = /, was: 'lowestTip(path) < clear', now: /true|<=/ },
  { file: 'gcode/proof/prove.ts', line: /^const extent = k === 0/, was: 'k === 0', now: 'false' },
  // Motions over the work are cut with, and a record is kept that nobody asks.
  { file: 'gcode/proof/prove.ts', line: /^over: setup/, was: "setup.frame.face === 'front'", now: 'true' },
  { file: 'gcode/proof/prove.ts', line: /^over: setup/, was: '-extent.low', now: '+extent.low' },
  { file: 'gcode/proof/prove.ts', line: /^const measured = /, was: /length > 0$/, now: /true|>= 0/ },
  // A gouge over the tolerance, a rapid through material and a jaw that is met are told as errors as well.
  { file: 'gcode/proof/prove.ts', line: /^gougeMax <= /, was: 'gougeMax <= tolerance.gouge', now: 'true' },
  { file: 'gcode/proof/prove.ts', line: /^setups\.every/, was: /^s\.\w+ === 0$/, now: 'true' },
  // Nothing stands so high.
  {
    file: 'gcode/proof/run-setup.ts',
    line: /^if \(lowestTip\(path\) >= /,
    was: /^lowestTip/,
    now: /false| > /,
  },
  // Only where a length is to the last bit what is taken for the rounding of floats.
  { file: /^gcode\/proof\//, line: /1e-(6|7|9)/, was: /[<>] 1e-(6|7|9)$/, now: bound },
  // A square of an even grid is known by a number of its own, wherever its count begins.
  { file: 'gcode/proof/wall-faces.ts', line: /^export const squareOf = /, was: /^[ij] \+ 50_000$/ },
  // Where a path ends on a wall, its end says that there is no distance just as the crossing does.
  { file: 'gcode/proof/distance.ts', line: /^return s < 0/, was: /^[st] [<>] [01]$/, now: bound },
  { file: 'gcode/proof/distance.ts', line: 'if (s < 0 || s > l) continue;', was: /^s [<>] \w$/, now: bound },
  // Where a line or a circle just touches a circle, so does the common normal.
  { file: 'gcode/proof/distance.ts', line: /^if \(d < 1e-12 \|\| d > ra/, was: /^d [<>]/, now: bound },
  {
    file: 'gcode/proof/distance.ts',
    line: 'if (half2 < 0) return null;',
    was: 'half2 < 0',
    now: 'half2 <= 0',
  },
  // What comes of it is no number, and no place of an arc.
  { file: 'gcode/proof/distance.ts', line: 'if (half2 < 0) return null;', was: 'half2 < 0', now: 'false' },
  { file: 'gcode/proof/distance.ts', line: 'if (l < 1e-12) return null;', was: 'l < 1e-12', now: 'false' },
  { file: 'gcode/proof/distance.ts', line: /^if \(d < 1e-12 \|\| d > ra/, was: 'd < 1e-12', now: 'false' },
  { file: 'gcode/proof/distance.ts', line: 'if (d > 1e-9) {', was: 'd > 1e-9', now: 'true' },
  // No two floats are exactly so far from alike.
  { file: 'gcode/proof/distance.ts', line: /1e-(9|12|14)/, was: /1e-(9|12|14)$/, now: bound },
  // One place more to look at, and it lies on both.
  {
    file: 'gcode/proof/distance.ts',
    line: /^if \(a\.kind === '\w+' && /,
    was: /^[ab]\.kind === 'line'$/,
    now: 'true',
  },

  // Off the first and the last row of a map nothing is read, and nothing is no material.
  { file: 'gcode/proof/pieces.ts', line: /^if \(cell >= columns\)/, was: 'cell >= columns', now: 'true' },
  { file: 'gcode/proof/pieces.ts', line: /^if \(cell < lastRow\)/, was: 'cell < lastRow', now: /true|<=/ },
  { file: 'gcode/proof/pieces.ts', line: /^const lastRow = /, was: 'rows - 1', now: 'rows + 1' },
  { file: 'gcode/proof/patches.ts', line: /^if \(i >= columns && /, was: 'i >= columns', now: 'true' },
  // The very first is where a patch is begun, and leads on to what lies beside it.
  { file: 'gcode/proof/patches.ts', line: /^if \(i >= columns && /, was: 'i >= columns', now: 'i > columns' },
  { file: 'gcode/proof/patches.ts', line: /^if \(i < lastRow && /, was: 'i < lastRow', now: /true|<=/ },
  { file: 'gcode/proof/patches.ts', line: /^const lastRow = /, was: 'map.rows - 1', now: 'map.rows + 1' },
  // Beyond its last run a row has none that could meet another.
  {
    file: 'gcode/proof/pieces.ts',
    line: /^for \(let o = 0, n = 0; /,
    was: /^[on] < (older|newer)\.length$/,
    now: bound,
  },
  // A run is its own root.
  { file: 'gcode/proof/pieces.ts', line: /^if \(x < y\)/, was: 'x < y', now: bound },
  // Of two runs that end together neither meets one beyond.
  { file: 'gcode/proof/pieces.ts', line: /^if \(older\[o \+ 1\]/, was: /^older/, now: bound },
  // A place that was reached leads nowhere new.
  { file: 'gcode/proof/pieces.ts', line: /^if \(reached\[seed\]/, was: 'reached[seed] === 1', now: 'false' },
  // A sense is 1 or −1.
  { file: /^gcode\/proof\//, line: /(up|inward) > 0/, was: /(up|upOf\(.*\)|inward) > 0$/, now: />= 0$/ },
  // One more is kept before all that is known is forgotten.
  { file: 'gcode/proof/reach.ts', line: /MOST_KNOWN\) known/, was: /MOST_KNOWN$/, now: / > MOST_KNOWN$/ },
  // Holes that lie farther off are grown along, for nothing; the one that a place is in has it in its box.
  { file: 'gcode/proof/reach.ts', line: /MATTERS \* disc/, was: /^[xy] [<>]=? box/, now: 'true' },
  { file: 'gcode/proof/reach.ts', line: /MATTERS \* disc/, was: /^[xy] [<>]= box/, now: bound },
  { file: 'gcode/proof/reach.ts', line: /MATTERS \* disc/, was: 'MATTERS * disc', now: 'MATTERS / disc' },
  {
    file: 'gcode/proof/reach.ts',
    line: /isHole && !isNear/,
    was: 'isHole && !isNear(box, place)',
    now: 'false',
  },
  // The lesser of two that are alike is either.
  { file: 'gcode/proof/pass-tally.ts', line: /^if \(least\[k\]! < web/, was: 'least[k]! < web', now: /<=/ },
  // What is known to be clean is judged once more, and is clean.
  {
    file: 'gcode/proof/run-setup.ts',
    line: /^if \(task\.meet\(path, known/,
    was: /^known !== null/,
    now: 'false',
  },
  // Whatever a map is not bare of, or a cell kept from before is asked for anew, comes to the same.
  { file: 'gcode/proof/leftover.ts', line: 'return true;', was: 'true', now: 'false' },
  {
    file: 'gcode/proof/leftover.ts',
    line: /^const most = /,
    was: /^(top\[i\]! - high|low - bottom\[i\]!)$/,
    now: / \+ /,
  },
  { file: 'gcode/proof/leftover.ts', line: /^if \(known !== undefined\)/, was: /^known/, now: 'false' },
  // A region put together with itself.
  {
    file: 'gcode/proof/reach.ts',
    line: 'const slabs = inTheWay',
    was: /^inTheWay\s+\.filter/,
    now: 'inTheWay',
  },
  { file: 'gcode/proof/reach.ts', line: /inTheWay\.findIndex/, was: /^inTheWay\.findIndex/, now: 'true' },
  // Where the cutter's middle may be there is no part; and of both faces the lesser is told.
  { file: 'gcode/proof/reach.ts', line: /k < STEPS/, was: 'k < STEPS', now: bound },
  { file: 'gcode/proof/reach.ts', line: 'if (front === 0) return 0;', was: 'front === 0', now: 'false' },
  // Heights that are known are reckoned or added once more.
  { file: 'gcode/proof/levels.ts', line: /^if \(from\.z !== to\.z/, was: /^from/, now: 'true' },
  { file: 'gcode/proof/levels.ts', line: /^if \(heights\.every/, was: /^heights\.every/, now: 'false' },
  // More cells are asked whether they lie in the bridge.
  {
    file: 'gcode/proof/leftover.ts',
    line: /^const [ij][01] = /,
    was: /^Math\.\w+\((0|map)/,
    now: /^Math\.\w+\((0|map)/,
  },
  // A map that is bare but for its walls is gone through for nothing.
  {
    file: 'gcode/proof/leftover.ts',
    line: /columns\.nearWall\[i\] === 1\) continue;/,
    was: /^top/,
    now: /&&/,
  },
  // What is no more than was counted is counted for nothing.
  {
    file: 'gcode/proof/report-excess.ts',
    line: /^if \(place\.amount <= \(bySetup/,
    was: /^place\.amount/,
    now: /false| < /,
  },
  // The squares are one millimetre wide.
  { file: 'gcode/proof/report-excess.ts', line: /\/ STRETCH\),/, was: / \/ STRETCH$/, now: / \* STRETCH$/ },
  // The union of one region is that region, but for rounding.
  { file: 'gcode/proof/reach.ts', line: /regions\.length === 1/, was: 'regions.length === 1', now: 'false' },
];
