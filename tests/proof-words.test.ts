import { describe, expect, it } from 'vitest';
import { proofJson } from '../gcode/proof/json.ts';
import { type ProofInput, prove } from '../gcode/proof/proof.ts';
import type { Fastening } from '../toolpath/route/route.ts';
import { backProgram, cutters, frontProgram, plateInput } from './proof-plate.ts';

// What a proof says is read at the machine: each finding whole, with its line, its place, its figures and its remedy.

type Said = readonly [code: string, setup: number | null, step: string | null, at: unknown, message: string];

const said = (input: ProofInput): Said[] =>
  proofJson(prove(input)).findings.map(({ code, setup, feature, at, message }) => [
    code,
    setup,
    feature ?? null,
    at,
    message,
  ]);

/** The front's setup alone, lying on a plate, with flutes too short and limits of engagement. */
const onPlate = (fastening: Fastening, text: string): ProofInput => {
  const input = plateInput(text, null);
  return {
    ...input,
    setups: [
      {
        ...input.setups[0]!,
        tools: cutters.map((c) => (c.number === 2 ? { ...c, fluteLength: 5 } : c)),
        limits: [
          { step: 'slot', engagement: 2 },
          { step: 'round end', engagement: 1 },
        ],
        hold: { kind: 'plate', fastening },
      },
    ],
  };
};

const IN_THE_VICE = plateInput(
  frontProgram({
    endRadius: 12.97,
    landDepth: 1.93,
    slotLevels: [-2, -4, -5.2],
    without: 'hole',
    extra: [
      ...['T1 M6', 'S1200 M3', '(STEP extras - PASS 1 OF 1 ROUGH)'],
      ...['G0 X15 Y-6', 'G0 Z-4.4', 'G1 Z-5 F60', 'G0 Z20'],
      ...['G0 X33 Y10', 'G0 Z-0.5', 'G0 Z20', 'G0 X15 Y10', 'G0 Z-17', 'G0 Z20'],
      ...['T3 M6', 'S900 M3', 'G0 X16 Y4', 'G0 Z1', 'G1 Z-8.1 F40', 'G0 Z20'],
      ...['M5', 'G1 X30 Y4 F40', 'Z-1', 'G0 Z20', 'T9 M6', 'S400 M3', 'G1 X3 Z-1'],
    ],
  }),
  backProgram().replace('M30', ''),
);
const ON_SCREWS = onPlate(
  { kind: 'screws', thread: 'M4', places: [{ x: 33, y: 10, hole: null }] },
  frontProgram({
    slotLevels: [-6.2],
    extra: [
      ...['T1 M6', 'S1200 M3', '(STEP extras - PASS 1 OF 2 ROUGH)', 'G0 X33 Y10', 'G1 Z0.5 F60', 'G1 X44'],
      ...['G0 Z20', 'G0 X49 Y1', 'G0 Z-3', 'G0 Z20', 'G0 X55', 'G0 Z-9', 'G0 Z20'],
    ],
  }),
);
const UNDER_CLAMPS = onPlate(
  { kind: 'clamps', force: 800, places: [{ x: 48, y: 1 }] },
  frontProgram({ without: 'slot', endLevels: [-2], extra: ['T0 M6', 'S1200 M3', 'G1 X33 F50'] }),
);

describe('what a proof says of', () => {
  it.each<[string, ProofInput, Said[]]>([
    [
      'slips in the vice',
      IN_THE_VICE,
      [
        [
          'rapid-in-stock',
          1,
          'extras',
          [14.5, 7.1, -11],
          'A rapid goes through material, 6.00 mm deep: line 88, near X 14.50, Y 7.10 of the drawing (and 1 more in this pass). Lift clear before moving.',
        ],
        [
          'spindle-stopped-in-cut',
          1,
          'extras',
          [29.9, 3.9, 5],
          'The cutter goes into the work with the spindle standing still: line 98, near X 29.90, Y 3.90 of the drawing.',
        ],
        [
          'tool-missing',
          1,
          null,
          [3, 4, 5],
          "Line 102 cuts with cutter 9, which is not among this setup's cutters: nothing it does can be proven.",
        ],
        [
          'gouge-wall',
          1,
          'extras',
          [16, 4, 4],
          'The 6.00 mm drill cuts 6.500 mm into a wall of the part at X 16.00, Y 4.00 of the drawing, on line 94.',
        ],
        [
          'gouge-floor',
          1,
          'extras',
          [30, 4, 5],
          'The 6.00 mm drill cuts 1.000 mm too deep into the part at X 30.00, Y 4.00 of the drawing, on line 98.',
        ],
        [
          'gouge-floor',
          1,
          'extras',
          [33, 10, 5.5],
          'The 6.00 mm endmill cuts 0.500 mm too deep into the part at X 33.00, Y 10.00 of the drawing, on line 85.',
        ],
        [
          'gouge-wall',
          1,
          'round end',
          [40, 20, 6],
          'The 6.00 mm endmill cuts 0.030 mm into a wall of the part at X 40.00, Y 20.00 of the drawing, on line 31.',
        ],
        [
          'gouge-wall',
          1,
          'round end',
          [40, 0, 6],
          'The 6.00 mm endmill cuts 0.030 mm into a wall of the part at X 40.00, Y 0.00 of the drawing, on line 30.',
        ],
        [
          'jaw-hit',
          1,
          'extras',
          [15, -6, 1],
          "Line 82 takes the cutter 0.50 mm into a vice jaw at X 15.00, Y -6.00 of the drawing (and 1 more in this pass): the tip is 0.50 mm below the jaws' tops.",
        ],
        [
          'parallel-hit',
          1,
          'extras',
          [16, 4, -2.1],
          "Line 94 takes the 6.00 mm drill 2.10 mm into a parallel under the work at X 16.00, Y 4.00 of the drawing (and 1 more in this pass). Shift that parallel 6.0 mm in Y, to 1.0 mm from the bar's middle.",
        ],
        [
          'bed-hit',
          1,
          'extras',
          [15, 10, -11],
          'Line 88 goes 1.00 mm into the bed of the vice at X 15.00, Y 10.00 of the drawing.',
        ],
        ['no-end', 2, null, null, 'Line 12: The program has no end (M2 or M30).'],
        [
          'wall-excess',
          null,
          null,
          [12.85, 12.5, 0.4],
          'The cutters stop 2 mm or more short of a wall at X 12.85, Y 12.50 of the drawing, between Z 0.00 and 0.80, along about 4 mm of it.',
        ],
        [
          'wall-excess',
          1,
          null,
          [12.85, 7.5, 0.4],
          'The cutters stop 1.709 mm short of a wall at X 12.85, Y 7.50 of the drawing, between Z 0.00 and 0.80, along about 4 mm of it.',
        ],
        [
          'material-left',
          2,
          null,
          [39.9, 9.9, 3],
          'Material stands 2.86 mm proud of the part at X 39.90, Y 9.90 of the drawing, over about 22 mm².',
        ],
        [
          'web-not-released',
          2,
          null,
          [11.5, 7.9, 0.4],
          'A web 0.80 mm thick still stands at X 11.50, Y 7.90 of the drawing, over about 9.1 mm²: nothing releases it.',
        ],
        [
          'web-not-released',
          2,
          null,
          [17.3, 7.9, 0.4],
          'A web 0.80 mm thick still stands at X 17.30, Y 7.90 of the drawing, over about 36 mm²: nothing releases it.',
        ],
        [
          'floor-excess',
          1,
          null,
          [0.5, 0.5, 4],
          'The surface at X 0.50, Y 0.50 of the drawing is 0.070 mm too high, over about 100 mm².',
        ],
        ['spindle-stopped', 1, null, null, 'Line 97: A feed move while the spindle stands.'],
        [
          'below-work',
          1,
          'extras',
          [15, 10, -11],
          'Line 88 goes 11.00 mm below the work. Make sure there is room under it.',
        ],
      ],
    ],
    [
      'slips on screws',
      ON_SCREWS,
      [
        [
          'deeper-than-flutes',
          1,
          'slot',
          [11.1, 7.7, -0.2],
          'The 5.00 mm endmill cuts 6.00 mm deep at once, but its flutes are 5.00 mm long: line 62, near X 11.10, Y 7.70 of the drawing (and 1 more in this pass). Take less at a time or a longer cutter.',
        ],
        [
          'rapid-in-stock',
          1,
          'extras',
          [46.5, 2.5, 3],
          'A rapid goes through material, 2.99 mm deep: line 91, near X 46.50, Y 2.50 of the drawing. Lift clear before moving.',
        ],
        [
          'gouge-wall',
          1,
          'extras',
          [47.0711, 2.9289, 4],
          'The 6.00 mm endmill cuts 0.272 mm into a wall of the part at X 47.07, Y 2.93 of the drawing, on line 91.',
        ],
        [
          'screw-hit',
          1,
          'extras',
          [33, 10, 6.5],
          'Line 87 takes the cutter 3.00 mm into the head of a screw at X 33.00, Y 10.00 of the drawing (and 1 more in this pass): the tip is 3.50 mm below its top.',
        ],
        [
          'shank-rubs',
          1,
          'slot',
          [12, 7.5, 4.8],
          'The wall beside the 5.00 mm endmill at X 12.00, Y 7.50 of the drawing stands 1.20 mm above its 5.00 mm flutes on line 62: the shank rubs. Use a longer cutter.',
        ],
        [
          'floor-excess',
          1,
          null,
          [28.5, 0.5, 1.5],
          'The surface at X 28.50, Y 0.50 of the drawing is 1.500 mm too high, over about 100 mm².',
        ],
        [
          'engagement-over-limit',
          1,
          'slot',
          [12.2, 10, -0.2],
          'slot buries its cutter by 180°, and states 115° at most: line 63, near X 12.20, Y 10.00 of the drawing. Take a smaller cutter, laps closer together, or allow a larger angle.',
        ],
        [
          'engagement-over-limit',
          1,
          'round end',
          [47.9599, -0.2781, 4],
          'round end buries its cutter by 122°, and states 57° at most: line 31, near X 47.96, Y -0.28 of the drawing (and 3 more passes of it). Take a smaller cutter, laps closer together, or allow a larger angle.',
        ],
        [
          'below-work',
          1,
          'extras',
          [55, 1, -3],
          'Line 94 goes 3.00 mm into the plate under the work. Lay a sheet between them that may be cut.',
        ],
      ],
    ],
    [
      'slips under clamps',
      UNDER_CLAMPS,
      [
        ['cut-without-tool', 1, null, [33, 10, 11], 'Line 58 feeds with no cutter called for.'],
        [
          'clamp-hit',
          1,
          'round end',
          [42, -2.8452, 4],
          'Line 31 takes the cutter 3.00 mm into a clamp at X 42.00, Y -2.85 of the drawing (and 3 more in this pass): the tip is 18.00 mm below its top.',
        ],
        [
          'wall-excess',
          null,
          null,
          [43.2792, 0.553, 0.75],
          'The cutters stop 0.585 mm short of a wall at X 43.28, Y 0.55 of the drawing, between Z 0.00 and 1.50, along about 2 mm of it.',
        ],
        [
          'wall-excess',
          null,
          null,
          [43.2792, 19.447, 0.75],
          'The cutters stop 0.585 mm short of a wall at X 43.28, Y 19.45 of the drawing, between Z 0.00 and 1.50, along about 2 mm of it.',
        ],
        [
          'material-left',
          1,
          null,
          [49.9, 0.1, 2],
          'Material stands 4.00 mm proud of the part at X 49.90, Y 0.10 of the drawing, over about 55 mm².',
        ],
        [
          'material-left',
          1,
          null,
          [12.1, 9.9, 3],
          'Material stands 2.40 mm proud of the part at X 12.10, Y 9.90 of the drawing, over about 68 mm².',
        ],
        [
          'floor-excess',
          1,
          null,
          [28.5, 0.5, 1.5],
          'The surface at X 28.50, Y 0.50 of the drawing is 1.500 mm too high, over about 100 mm².',
        ],
        ['no-tool', 1, null, null, 'Line 58: A feed move with no tool named (T).'],
        [
          'engagement-not-measured',
          1,
          'slot',
          null,
          'slot states that its cutter is buried by 115° at most, but the program names no pass of it: that is not proven. Keep the labels before each pass.',
        ],
        [
          'engagement-over-limit',
          1,
          'round end',
          [47.9599, -0.2781, 4],
          'round end buries its cutter by 122°, and states 57° at most: line 31, near X 47.96, Y -0.28 of the drawing. Take a smaller cutter, laps closer together, or allow a larger angle.',
        ],
      ],
    ],
  ])('%s', (_, input, expected) => {
    expect(said(input)).toEqual(expected);
  });
});

it('a screw stands as high over the work when its back is up', () => {
  const input = plateInput(frontProgram(), backProgram({ extra: ['G0 X20 Y10', 'G1 Z0.5 F60', 'G0 Z20'] }));
  const places = [{ x: 20, y: 10, hole: null }];
  const hold = { kind: 'plate', fastening: { kind: 'screws', thread: 'M4', places } } as const;
  const hits = said({ ...input, setups: [input.setups[0]!, { ...input.setups[1]!, hold }] });
  expect(hits.filter(([code]) => code === 'screw-hit').map(([, setup, , , words]) => [setup, words])).toEqual(
    [
      [
        2,
        'Line 12 takes the cutter 3.00 mm into the head of a screw at X 20.00, Y 10.00 of the drawing (and 1 more in this pass): the tip is 3.50 mm below its top.',
      ],
    ],
  );
});
