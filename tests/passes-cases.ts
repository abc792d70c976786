import type { Fork, Hole, Part } from '../sketch/part/part.ts';
import type { Hold, JobStep, Setup } from '../toolpath/route/route.ts';
import { LINK, PLATE, TERMS, VICE } from './passes-programs.ts';

/** Small parts and job steps whose plans are pinned: each is cut as nobody else of them is. */

const fork = (over: Partial<Fork> = {}): Part => ({
  ...PLATE,
  forks: [
    {
      name: 'fork',
      mouth: { x: 0, y: 13 },
      direction: 0,
      width: 8,
      depth: 16,
      root: { kind: 'round' },
      ...over,
    },
  ],
});
const SQUARE = { root: { kind: 'square', cornerRadius: 2.6 } } as const;
const FORK: JobStep = {
  ...TERMS,
  kind: 'fork',
  name: 'fork',
  fork: 'fork',
  cutter: '5 mm endmill',
  web: 1,
  engagement: null,
};
const degrees = (angle: number): number => (angle * Math.PI) / 180;
const slotted = (depth: number | null): Part => ({
  ...PLATE,
  slots: [
    {
      name: 'slot',
      from: { x: 20, y: 10 },
      to: { x: 38, y: 15 },
      width: 7,
      depth,
      face: 'front',
    },
  ],
});
const SLOT: JobStep = { ...FORK, kind: 'slot', name: 'slot', slot: 'slot' };
const free = (of: string): JobStep => ({
  kind: 'release',
  name: `free ${of}`,
  of,
  cutter: '5 mm endmill',
  stepDown: 0.8,
  feedShare: 0.5,
});
const bored = (boreDepth: number): Part => ({
  ...PLATE,
  holes: [
    {
      name: 'bore',
      purpose: 'counterbored',
      centre: { x: 24, y: 12 },
      diameter: 5,
      depth: null,
      from: 'front',
      boreDiameter: 11,
      boreDepth,
    },
  ],
});
const BORE: JobStep = { ...FORK, kind: 'pocket', name: 'bore', hole: 'bore', cutter: '4 mm endmill' };
const thinned: Part = {
  ...PLATE,
  lands: [
    {
      name: 'web',
      shape: {
        kind: 'polygon',
        corners: [
          { x: 24, y: -5 },
          { x: 70, y: -5 },
          { x: 70, y: 35 },
          { x: 24, y: 35 },
        ],
        cornerRadius: 0,
      },
      top: 3.4,
      bottom: 0,
    },
  ],
};
const THIN: JobStep = {
  ...TERMS,
  kind: 'thin',
  name: 'thin',
  lands: ['web'],
  cutter: '8 mm endmill',
  stepover: 5,
  startFrom: 'left',
  reach: null,
  engagement: null,
};
const OUTLINE: JobStep = {
  ...TERMS,
  kind: 'outline',
  name: 'outline',
  cutter: '6 mm endmill',
  stepover: 2.4,
  floor: 0,
  clear: 'all',
  web: 0,
  bridges: null,
  engagement: null,
};
const BRIDGES = { count: 3, length: 4, height: 1 };

const HOLES: readonly JobStep[] = [
  { kind: 'spot', name: 'spot', cutter: '6 mm spot drill', holes: ['pin', 'pivot'] },
  { kind: 'drill', name: 'drill 6', cutter: '6.0 mm drill', holes: ['pivot'], peck: 2 },
  { kind: 'drill', name: 'drill 3.8', cutter: '3.8 mm drill', holes: ['pin'], peck: 1.5 },
  { kind: 'ream', name: 'ream 4', cutter: '4 mm reamer', holes: ['pin'] },
];

const SCREWS: Hold = {
  kind: 'plate',
  fastening: {
    kind: 'screws',
    thread: 'M3',
    places: [
      { x: 44, y: 14, hole: null },
      { x: -14, y: 14, hole: null },
    ],
  },
};
/** A fork from either end. */
const twoForks: Part = {
  ...PLATE,
  forks: [
    ...fork().forks,
    {
      ...fork().forks[0]!,
      name: 'other',
      mouth: { x: 60, y: 18 },
      direction: degrees(170),
      width: 5.5,
      depth: 12,
    },
  ],
};

/** A round hollow in the middle of a plate. */
const island: Part = {
  ...PLATE,
  lands: [
    { name: 'web', shape: { kind: 'disc', centre: { x: 30, y: 15 }, radius: 10 }, top: 4.4, bottom: 0 },
  ],
};
const wide: Part = { ...LINK, bar: { ...LINK.bar, corner: { x: -40, y: -35 }, length: 110, width: 72 } };
/** The bar goes on before the fork's mouth. */
const inside: Part = {
  ...fork(),
  plates: [
    { ...PLATE.plates[0]!, corners: PLATE.plates[0]!.corners.map((c) => ({ ...c, x: Math.max(22, c.x) })) },
  ],
  forks: [{ ...fork().forks[0]!, mouth: { x: 22, y: 13 } }],
};

export interface Case {
  readonly name: string;
  readonly part: Part;
  readonly steps: readonly JobStep[];
  readonly over?: Partial<Setup>;
}
const of = (name: string, part: Part, steps: readonly JobStep[], over?: Partial<Setup>): Case => ({
  name,
  part,
  steps,
  ...(over && { over }),
});
export const CASES: readonly Case[] = [
  of('fork by laps', fork(), [FORK, free('fork')]),
  of('fork 5 wide', fork({ width: 5 }), [{ ...FORK, levels: { kind: 'falling', share: 0.7 } }, free('fork')]),
  of('fork aslant', fork({ direction: degrees(20), ...SQUARE }), [
    { ...FORK, direction: 'conventional' },
    { ...free('fork'), cutter: '4 mm endmill' },
  ]),
  of('fork peeled', fork(), [{ ...FORK, engagement: degrees(70) }, free('fork')]),
  of('fork peeled square', fork(SQUARE), [
    { ...FORK, engagement: degrees(80), direction: 'conventional' },
    free('fork'),
  ]),
  of('fork from behind', fork(), [{ ...FORK, engagement: degrees(60) }, free('fork')], {
    face: 'back',
    datum: 'right-far',
  }),
  of('slot by laps', slotted(null), [SLOT, free('slot')]),
  of('slot 2.5 deep', slotted(2.5), [{ ...SLOT, floorAllowance: 0.1, web: 0 }]),
  of('slot peeled', slotted(null), [
    { ...SLOT, cutter: '4 mm endmill', engagement: degrees(75) },
    free('slot'),
  ]),
  of('bore by laps', bored(2.2), [BORE]),
  of('bore peeled', bored(3), [
    { ...BORE, engagement: degrees(65), direction: 'conventional', floorAllowance: 0.2 },
  ]),
  of('thin left', thinned, [THIN]),
  of('thin right', thinned, [
    { ...THIN, startFrom: 'right', direction: 'conventional', floorAllowance: 0.2 },
  ]),
  of('thin fronts', thinned, [{ ...THIN, engagement: degrees(70) }]),
  of('link all', LINK, [{ ...OUTLINE, floor: 2 }], { hold: VICE }),
  of('link square', LINK, [{ ...OUTLINE, kind: 'square', name: 'square' } as JobStep], { datum: 'centre' }),
  of('link groove', LINK, [{ ...OUTLINE, clear: 'groove', bridges: BRIDGES }]),
  of('link web', LINK, [{ ...OUTLINE, clear: 'groove', web: 0.6 }, { ...free('outline') }]),
  of('link groove gentle', LINK, [
    { ...OUTLINE, clear: 'groove', bridges: BRIDGES, cutter: '4 mm endmill', engagement: degrees(80) },
  ]),
  of('link all gentle', LINK, [{ ...OUTLINE, floor: 3.5, engagement: degrees(70) }]),
  of('link in short jaws', LINK, [{ ...OUTLINE, floor: 1 }], {
    hold: { ...VICE, jaws: { from: -8, to: 26 }, grip: 1.5 },
  }),
  of('link groove the other way', LINK, [
    { ...OUTLINE, clear: 'groove', direction: 'conventional', bridges: { ...BRIDGES, count: 5, length: 6 } },
  ]),
  of(
    'slot beside a land',
    { ...slotted(null), lands: thinned.lands },
    [{ ...THIN, reach: 4 }, SLOT, free('slot')],
    {
      face: 'front',
      datum: 'right-near',
    },
  ),
  of('link holes', LINK, HOLES, { datum: 'right-far' }),
  of('thin in short jaws', thinned, [THIN], {
    hold: { ...VICE, jaws: { from: -5, to: 34 }, grip: 3.2 },
  }),
  of('thin within reach', thinned, [{ ...THIN, reach: 3, levels: { kind: 'falling', share: 0.6 } }], {
    face: 'front',
    datum: 'centre',
  }),
  of('bore too gentle', bored(2.2), [{ ...BORE, cutter: '6 mm endmill', engagement: degrees(9) }]),
  of(
    'bore through',
    { ...PLATE, holes: [{ ...bored(2).holes[0]!, purpose: 'clearance', diameter: 9 } as Hole] },
    [{ ...BORE, direction: 'conventional', wallAllowance: 0 }],
  ),
  of('link square from behind', LINK, [{ ...OUTLINE, kind: 'square', name: 'square', floor: 3 } as JobStep], {
    face: 'back',
  }),
  of('link under screws', LINK, [{ ...OUTLINE, floor: 1 }], { hold: SCREWS }),
  of(
    'link gentle under screws',
    LINK,
    [{ ...OUTLINE, floor: 3, cutter: '4 mm endmill', engagement: degrees(75) }],
    {
      hold: SCREWS,
    },
  ),
  of('link gentle in short jaws', LINK, [{ ...OUTLINE, floor: 3.4, engagement: degrees(85) }], {
    hold: { ...VICE, jaws: { from: -8, to: 26 }, grip: 3.5 },
  }),
  of('link conventional to its floor', LINK, [
    { ...OUTLINE, floor: 1, direction: 'conventional', floorAllowance: 0.3 },
  ]),
  of('link two bridges at a time', LINK, [
    {
      ...OUTLINE,
      clear: 'groove',
      stepDown: 1.1,
      wallAllowance: 0,
      bridges: { count: 2, length: 6, height: 2.5 },
    },
  ]),
  of('link all about bridges', LINK, [{ ...OUTLINE, bridges: { count: 2, length: 5, height: 1.5 } }]),
  of('two forks', twoForks, [
    FORK,
    { ...FORK, name: 'other', fork: 'other', cutter: '4 mm endmill' },
    free('fork'),
    free('other'),
  ]),
  of('island peeled from a hole', island, [{ ...THIN, engagement: degrees(75) }]),
  of('island peeled the other way', island, [
    { ...THIN, direction: 'conventional', engagement: degrees(75) },
  ]),
  of('island by strokes', island, [{ ...THIN, cutter: '6 mm endmill', stepover: 4 }]),
  of('fork within the bar', inside, [FORK, free('fork')]),
  of('fork peeled within the bar', inside, [{ ...FORK, engagement: degrees(70) }, free('fork')]),
  of('island at a small angle', island, [{ ...THIN, engagement: degrees(25) }]),
  of('groove in a wide bar', wide, [{ ...OUTLINE, clear: 'groove', stepDown: 5 }]),
  of('groove peeled in a wide bar', wide, [
    { ...OUTLINE, clear: 'groove', cutter: '4 mm endmill', stepDown: 5.2, engagement: degrees(90) },
  ]),
];
