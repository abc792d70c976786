import { expect, test } from 'vitest';
import type { Fork, Part } from '../sketch/part/part.ts';
import { type Slab, solidOf } from '../sketch/part/solid.ts';
import { signedDistance } from '../sketch/shape/region.ts';
import type { PlannedStep } from '../toolpath/passes/pass.ts';
import { slabsInProgram } from '../toolpath/passes/workpiece.ts';
import type { JobStep, Setup } from '../toolpath/route/route.ts';
import { inLines, LINK, PLATE, planned, TERMS, VICE } from './passes-programs.ts';
import { placesAlong, tracksByPass } from './passes-samples.ts';

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
/** How high rapids go over the work, mm. */
const CLEAR = 5;
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

interface Case {
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
const CASES: readonly Case[] = [
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
];

/** Every pass begins and ends well above the work, and its heights are as it says. */
const expectHeights = ({ step, passes }: PlannedStep): void => {
  const last = passes.at(-1)!.moves.at(-1)!;
  expect(passes[0]!.moves[0]).toMatchObject({ kind: 'rapid', to: { z: CLEAR } });
  if (last.kind !== 'drill') expect(last).toMatchObject({ kind: 'rapid', to: { z: CLEAR } });
  for (const { pass, tracks } of tracksByPass(passes))
    if (tracks.length > 0) expect(Math.min(...tracks.map((t) => t.to.z))).toBeCloseTo(pass.z, 9);
  if (!('stepDown' in step)) return;
  const levels = [0, ...passes.filter((p) => p.kind === 'rough').map((p) => p.z)];
  for (const [i, z] of levels.slice(1).entries()) {
    expect(levels[i]! - z).toBeGreaterThan(0);
    expect(levels[i]! - z).toBeLessThanOrEqual(step.stepDown + 1e-9);
  }
};

/** The cutter never comes nearer to the part than its radius, and roughing leaves what is stated. */
const expectClear = ({ step, passes, cutter }: PlannedStep, wanted: readonly Slab[]): void => {
  if (!('stepDown' in step)) return;
  for (const { pass, tracks } of tracksByPass(passes)) {
    // Under a limit of engagement less is left where a finishing lap could not take it.
    const left =
      pass.kind === 'rough' && 'engagement' in step && step.engagement === null ? step.wallAllowance : 0;
    // On its centre line a cutter as wide as the opening leaves nothing.
    const asWide = step.kind === 'fork' && cutter.diameter === 5 && passes.every((p) => p.kind === 'rough');
    for (const t of tracks)
      for (const slab of wanted) {
        if (slab.top <= Math.min(t.from.z, t.to.z) + 1e-6) continue;
        for (const p of placesAlong(t.segment, 0.8))
          expect(signedDistance(slab.region, p)).toBeGreaterThan(
            cutter.diameter / 2 + (asWide ? 0 : left) - 2e-3,
          );
      }
  }
};

test.each(CASES)('$name: planned as it was, and truly', async ({ name, part, steps, over = {} }) => {
  const plan = planned(part, steps, over);
  const [setup] = plan.setups;
  expect(plan.findings.filter((f) => f.severity === 'error')).toEqual([]);
  expect(setup!.steps.map(({ step }) => step.name)).toEqual(steps.map((step) => step.name));
  const wanted = slabsInProgram(setup!.frame, solidOf(part).slabs);
  for (const step of setup!.steps) {
    expectHeights(step);
    expectClear(step, wanted);
  }
  // All in figures, as they were when the above was found to hold; `-u` writes them anew where the ways
  // are meant to be others.
  await expect(inLines(plan)).toMatchFileSnapshot(`passes-programs/${name.replaceAll(' ', '-')}.txt`);
});
