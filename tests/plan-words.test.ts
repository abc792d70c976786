import { describe, expect, it } from 'vitest';
import type { Part } from '../sketch/part/part.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { MachineProfile } from '../toolpath/machine/profile.ts';
import type { Plan } from '../toolpath/passes/pass.ts';
import { planRoute } from '../toolpath/passes/plan.ts';
import type { Hold, JobStep, Setup, ViceHold } from '../toolpath/route/route.ts';
import { plateOf } from './passes-programs.ts';

// One plate of brass with three holes and a slot: what is planned for it, figure by figure, and every sentence about a
// route that cannot be cut.

const PLATE: Part = {
  ...plateOf('Keeper plate', 40, 20),
  holes: [
    { name: 'pin', purpose: 'reamed', centre: { x: 8, y: 10 }, diameter: 4, depth: null, from: 'front' },
    { name: 'blind', purpose: 'clearance', centre: { x: 32, y: 10 }, diameter: 5, depth: 3, from: 'front' },
    {
      ...{
        name: 'thread',
        purpose: 'tapped',
        centre: { x: 36, y: 4 },
        diameter: 2.5,
        depth: null,
        from: 'front',
      },
      ...{ designation: 'M3', major: 3, pitch: 0.5, engagement: 6 },
    } as Part['holes'][number],
  ],
  slots: [
    { name: 'slot', from: { x: 16, y: 10 }, to: { x: 24, y: 10 }, width: 6, depth: null, face: 'front' },
  ],
};

const TERMS = {
  stepDown: 2,
  levels: { kind: 'equal' },
  stepover: 3,
  wallAllowance: 0,
  floorAllowance: 0,
  direction: 'climb',
} as const;
const VICE: ViceHold = {
  kind: 'vice',
  jaws: { from: 0, to: 40 },
  grip: 2,
  parallels: { height: 10, thickness: 3, offset: 5 },
  gripped: 'the bar',
};
const SLOT: JobStep = {
  ...{ kind: 'slot', name: 'slot', slot: 'slot', cutter: '6 mm endmill', web: 1, engagement: null, ...TERMS },
};
const FREE: JobStep = {
  ...{
    kind: 'release',
    name: 'free the slot',
    of: 'slot',
    cutter: '6 mm endmill',
    stepDown: 0.5,
    feedShare: 0.5,
  },
};
const DRILL: JobStep = {
  kind: 'drill',
  name: 'drill 2.5',
  cutter: '2.5 mm drill',
  holes: ['thread'],
  peck: 2,
};

const setupOf = (steps: readonly JobStep[], hold: Hold = VICE, more: Partial<Setup> = {}): Setup => ({
  ...{ number: 1, face: 'front', datum: 'left-near', workOffset: 'G54', hold, steps },
  ...more,
});
interface Otherwise {
  readonly hold?: Hold;
  readonly part?: Part;
  readonly profile?: MachineProfile;
  readonly face?: Setup['face'];
}
const plan = (
  steps: readonly JobStep[],
  { hold = VICE, part = PLATE, profile = standardProfile, face = 'front' }: Otherwise = {},
): Plan => planRoute(part, { setups: [setupOf(steps, hold, { face })] }, profile);

const said = ({ findings }: Plan) =>
  findings
    .filter((f) => f.code !== 'not-reached')
    .map((f) => [f.severity, f.code, f.feature ?? '', f.message]);

const bar = { ...PLATE.bar };
const onPlate = (fastening: Extract<Hold, { kind: 'plate' }>['fastening']): Plan =>
  plan([], { hold: { kind: 'plate', fastening } });
const withParallels = (offset: number, steps: readonly JobStep[], y = 4): Plan => {
  const holes = PLATE.holes.map((h) => (h.name === 'thread' ? { ...h, centre: { x: 36, y } } : h));
  const hold = { ...VICE, parallels: { height: 10, thickness: 3, offset } };
  return plan(steps, { hold, part: { ...PLATE, holes } });
};
const PIN: JobStep = { ...DRILL, name: 'drill 3.8', cutter: '3.8 mm drill', holes: ['pin'] };

describe('a route that cannot be cut is told why:', () => {
  it.each<[string, Plan, unknown[]]>([
    [
      'names, webs and cutters',
      plan([SLOT, PIN, FREE, SLOT, { ...DRILL, name: 'x', cutter: 'big one' }]),
      [
        ['error', 'step-named-twice', 'slot', 'Two job steps are called "slot".'],
        ['error', 'web-never-released', 'slot', 'slot leaves a support web that no later job step releases.'],
        ['error', 'cutter-not-owned', 'x', 'x: the machine profile has no cutter "big one".'],
      ],
    ],
    [
      'order and openings',
      plan([FREE, { ...SLOT, cutter: '8 mm endmill', name: 's' }, { ...DRILL, holes: ['none'] }]),
      [
        [
          'error',
          'release-too-early',
          'free the slot',
          'free the slot releases "slot", which has not been cut by then.',
        ],
        ['error', 'cutter-too-wide', 's', 's: a cutter of 8 mm does not enter an opening of 6 mm.'],
        ['error', 'web-never-released', 's', 's leaves a support web that no later job step releases.'],
        [
          'error',
          'step-impossible',
          'free the slot',
          'free the slot: it releases "slot", which is no job step.',
        ],
        ['error', 'step-impossible', 'drill 2.5', 'drill 2.5: the part has no hole "none".'],
      ],
    ],
    [
      'a release of what leaves no web',
      plan([PIN, { ...FREE, of: 'drill 3.8' }]),
      [
        [
          'error',
          'step-impossible',
          'free the slot',
          'free the slot: it releases "drill 3.8", which leaves no web.',
        ],
      ],
    ],
    [
      'jaws beside the work',
      plan([], { hold: { ...VICE, jaws: { from: 50, to: 60 } } }),
      [['error', 'nothing-gripped', '', 'Setup 1: the jaws close on nothing.']],
    ],
    [
      'jaws that hardly bear',
      plan([], { hold: { ...VICE, jaws: { from: 37, to: 60 }, grip: 1 } }),
      [
        [
          'warning',
          'poor-contact',
          '',
          'Setup 1: one jaw bears on only 3 mm of flat; use soft jaws, pack it, or hold it down another way.',
        ],
        ['note', 'small-grip', '', 'Setup 1: only 1 mm is held; keep the passes light.'],
      ],
    ],
    [
      'flutes',
      plan([SLOT, { ...FREE, stepDown: 1 }], { part: { ...PLATE, bar: { ...bar, thickness: 25 } } }),
      [
        [
          'error',
          'flutes-too-short',
          'slot',
          'slot is 24 mm deep, but 6 mm endmill cuts only 19 mm beside itself.',
        ],
        [
          'error',
          'flutes-too-short',
          'free the slot',
          'free the slot is 25 mm deep, but 6 mm endmill cuts only 19 mm beside itself.',
        ],
      ],
    ],
    [
      'a parallel with room',
      withParallels(3, [PIN]),
      [
        [
          'warning',
          'over-parallel',
          'drill 3.8',
          'drill 3.8 goes through above a parallel; set that parallel 0.6 mm farther out, or use a thinner one.',
        ],
      ],
    ],
    [
      'a parallel with little room',
      withParallels(5, [DRILL]),
      [
        [
          'warning',
          'over-parallel',
          'drill 2.5',
          'drill 2.5 goes through above a parallel; use one 2.55 mm thick or thinner there, set against the jaw.',
        ],
      ],
    ],
    [
      'a parallel with no room',
      withParallels(8, [DRILL], 1.6),
      [
        [
          'warning',
          'over-parallel',
          'drill 2.5',
          'drill 2.5 goes through above a parallel; there is no room for one between the cut and the jaw: hold the work another way there.',
        ],
      ],
    ],
    ['a parallel clear of the cut', withParallels(8, [PIN]), []],
    [
      'travels',
      plan([SLOT, FREE], {
        profile: { ...standardProfile, travel: { x: 5, y: 180, z: 9 } },
      }),
      [
        ['error', 'beyond-travel', '', 'Setup 1 moves 8 mm in X; the machine has 5 mm.'],
        ['error', 'beyond-travel', '', 'Setup 1 moves 11.2 mm in Z; the machine has 9 mm.'],
      ],
    ],
    [
      'screws',
      onPlate({
        kind: 'screws',
        thread: 'M4',
        places: ['blind', 'thread', 'pin'].map((hole) => ({
          ...PLATE.holes.find((h) => h.name === hole)!.centre,
          hole,
        })),
      }),
      [
        ['error', 'screw-hole-blind', '', 'Setup 1: “blind” does not go through.'],
        ['error', 'screw-too-thick', '', 'Setup 1: an M4 screw does not go through “thread”, ⌀ 2.5 mm.'],
        ['error', 'screw-too-thick', '', 'Setup 1: an M4 screw does not go through “pin”, ⌀ 4 mm.'],
      ],
    ],
    [
      'a clamp beside the bar',
      onPlate({ kind: 'clamps', force: 500, places: [{ x: 60, y: 10 }] }),
      [
        [
          'warning',
          'one-foot',
          '',
          'Setup 1: one clamp alone lets the work swing about it; two or more are wanted.',
        ],
        ['error', 'foot-on-nothing', '', 'Setup 1: there is no bar left under the clamp at X 60.0 Y 10.0.'],
      ],
    ],
    [
      'no clamp',
      onPlate({ kind: 'clamps', force: 500, places: [] }),
      [['error', 'nothing-fastened', '', 'Setup 1: the work lies on its plate without a clamp.']],
    ],
    [
      'clamps on the part',
      onPlate({
        kind: 'clamps',
        force: 500,
        places: [
          { x: 30, y: 1 },
          { x: 0, y: 10 },
        ],
      }),
      [
        [
          'error',
          'foot-on-part',
          '',
          'Setup 1: the clamp at X 30.0 Y 1.0 stands on the part: move it out onto the bar beside it.',
        ],
        [
          'error',
          'foot-on-part',
          '',
          'Setup 1: the clamp at X 0.0 Y 10.0 stands on the part: move it out onto the bar beside it.',
        ],
      ],
    ],
    ['tape', onPlate({ kind: 'tape', shear: 0.3, peel: 0.1 }), []],
  ])('%s', (_, made, expected) => {
    expect(said(made)).toEqual(expected);
  });
});

describe('what is planned', () => {
  const rounded = (value: unknown): unknown =>
    JSON.parse(JSON.stringify(value), (_, v) => (typeof v === 'number' ? Math.round(v * 1000) / 1000 : v));
  const drillings = (steps: readonly JobStep[], face: Setup['face'] = 'front') =>
    rounded(
      plan(steps, { face }).setups[0]!.steps.flatMap((s) =>
        s.passes
          .flatMap((p) => p.moves.filter((m) => m.kind === 'drill'))
          .map((m) => [m.at.x, m.at.y, m.clear, m.depth, m.peck, m.dwell, m.feed]),
      ),
    );

  it('for holes: spots narrower than the hole, points beyond a blind depth, all of the drill through, reamers to the depth itself', () => {
    const SPOT: JobStep = {
      kind: 'spot',
      name: 'spot',
      cutter: '6 mm spot drill',
      holes: ['blind', 'thread', 'pin'],
    };
    const made = [
      SPOT,
      PIN,
      { ...PIN, name: 'd5', cutter: '5.0 mm drill', holes: ['blind'] },
      { kind: 'ream', name: 'r', cutter: '4 mm reamer', holes: ['pin'] },
      { kind: 'ream', name: 'r5', cutter: '5 mm reamer', holes: ['blind'] },
    ] as JobStep[];
    expect(drillings(made)).toEqual([
      [8, 10, 0.5, -1.7, 0, 0.3, 140],
      [32, 10, 0.5, -2.125, 0, 0.3, 140],
      [36, 4, 0.5, -1.063, 0, 0.3, 140],
      [8, 10, 0.5, -7.642, 2, 0, 150],
      [32, 10, 0.5, -4.502, 2, 0, 150],
      [8, 10, 0.5, -6.5, 0, 0.3, 150],
      [32, 10, -2.5, -3, 0, 0.3, 150],
    ]);
    expect(drillings([PIN], 'back')).toEqual([[8, 10, 0.5, -7.642, 2, 0, 150]]);
    // 0.5 + 7.642 = 8.142 mm of way: a fifth peck of 0.142, and a third of 0.062 that would only wear the drill.
    expect(drillings([{ ...PIN, peck: 2 }])).toEqual([[8, 10, 0.5, -7.642, 2, 0, 150]]);
    expect(drillings([{ ...PIN, peck: 4.04 }])).toEqual([[8, 10, 0.5, -7.642, 4.076, 0, 150]]);
  });

  it('for a tap: a stop over the first hole, by hand, with what is to be cut', () => {
    const tap: JobStep = { kind: 'tap', name: 'tap', cutter: 'M3 tap', holes: ['thread'] };
    const owned = {
      ...standardProfile,
      cutters: [
        ...standardProfile.cutters,
        { ...standardProfile.cutters[0]!, name: 'M3 tap', kind: 'tap' as const },
      ],
    };
    expect(plan([tap], { profile: owned }).setups[0]!.steps[0]!.passes).toEqual([
      {
        kind: 'rough',
        z: 5,
        web: null,
        moves: [
          { kind: 'rapid', to: { x: 36, y: 4, z: 5 } },
          { kind: 'stop', message: 'tap: tap by hand thread M3, oil, back off to break the chip' },
        ],
      },
    ]);
  });

  it('for a slot as wide as its cutter: down by ramps forth and back, level by level, the web kept to the last', () => {
    const steps = plan([SLOT, FREE]).setups[0]!.steps;
    expect(steps.map((s) => [s.step.name, s.feed, s.plungeFeed])).toEqual([
      ['slot', 334, 100],
      ['free the slot', 167, 100],
    ]);
    expect(
      rounded(
        steps.flatMap((s) =>
          s.passes.map((p) => [
            p.kind,
            p.z,
            p.web,
            ...p.moves.map((m) =>
              m.kind === 'rapid' || m.kind === 'feed'
                ? `${m.kind} X${m.to.x.toFixed(2)} Y${m.to.y.toFixed(2)} Z${m.to.z.toFixed(2)}`
                : m.kind,
            ),
          ]),
        ),
      ),
    ).toEqual([
      [
        'rough',
        -1.667,
        4.333,
        'rapid X16.00 Y10.00 Z5.00',
        'rapid X16.00 Y10.00 Z0.50',
        'feed X16.00 Y10.00 Z0.05',
        'feed X24.00 Y10.00 Z-0.24',
        'feed X16.00 Y10.00 Z-0.52',
        'feed X24.00 Y10.00 Z-0.81',
        'feed X16.00 Y10.00 Z-1.09',
        'feed X24.00 Y10.00 Z-1.38',
        'feed X16.00 Y10.00 Z-1.67',
        'feed X24.00 Y10.00 Z-1.67',
      ],
      [
        'rough',
        -3.333,
        2.667,
        'feed X16.00 Y10.00 Z-2.08',
        'feed X24.00 Y10.00 Z-2.50',
        'feed X16.00 Y10.00 Z-2.92',
        'feed X24.00 Y10.00 Z-3.33',
        'feed X16.00 Y10.00 Z-3.33',
      ],
      [
        'rough',
        -5,
        1,
        'feed X24.00 Y10.00 Z-3.75',
        'feed X16.00 Y10.00 Z-4.17',
        'feed X24.00 Y10.00 Z-4.58',
        'feed X16.00 Y10.00 Z-5.00',
        'feed X24.00 Y10.00 Z-5.00',
        'rapid X24.00 Y10.00 Z5.00',
      ],
      [
        'release',
        -5.4,
        0.6,
        'rapid X16.00 Y10.00 Z5.00',
        'rapid X16.00 Y10.00 Z-4.50',
        'feed X16.00 Y10.00 Z-4.95',
        'feed X20.29 Y10.00 Z-5.18',
        'feed X16.00 Y10.00 Z-5.40',
        'feed X24.00 Y10.00 Z-5.40',
      ],
      [
        'release',
        -5.8,
        0.2,
        'feed X20.18 Y10.00 Z-5.60',
        'feed X24.00 Y10.00 Z-5.80',
        'feed X16.00 Y10.00 Z-5.80',
      ],
      [
        'release',
        -6.2,
        0,
        'feed X19.82 Y10.00 Z-6.00',
        'feed X16.00 Y10.00 Z-6.20',
        'feed X24.00 Y10.00 Z-6.20',
        'rapid X24.00 Y10.00 Z5.00',
      ],
    ]);
  });
});
