import { describe, expect, it } from 'vitest';
import type { Part } from '../sketch/part/part.ts';
import { rectangle } from '../sketch/shape/region.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { Move, Pass } from '../toolpath/passes/pass.ts';
import { checkStep, holdFindings, leftoverFindings, routeFindings } from '../toolpath/passes/plan-checks.ts';
import type { Scene } from '../toolpath/passes/scene.ts';
import type { Workpiece } from '../toolpath/passes/workpiece.ts';
import { frameOf } from '../toolpath/route/frame.ts';
import type { JobStep } from '../toolpath/route/route.ts';
import { PLATE, TAPE, TERMS, VICE } from './passes-programs.ts';
import { endmill } from './passes-samples.ts';

// What is said of routes, holds and planned job steps: each limit from both sides, each remedy, figures worked by hand.

const at = (x: number, y: number) => ({ x, y });
const DRILL: JobStep = { kind: 'drill', name: 'pin', cutter: '3.8 mm drill', holes: ['pin'], peck: 2 };
const FORK: JobStep = {
  ...TERMS,
  kind: 'fork',
  name: 'gap',
  fork: 'gap',
  cutter: '6 mm endmill',
  web: 0,
  engagement: null,
};
const release = (of: string): JobStep => ({
  ...{ kind: 'release', name: `free ${of}`, of, cutter: '6 mm endmill', stepDown: 0.4, feedShare: 0.5 },
});

describe('of a route', () => {
  const codes = (steps: readonly JobStep[], part: Part = PLATE): string[] =>
    routeFindings(
      part,
      { setups: [{ number: 1, face: 'front', datum: 'left-near', workOffset: 'G54', hold: TAPE, steps }] },
      standardProfile,
    ).map((f) => `${f.feature}: ${f.code}`);

  it('a web is released after it is cut, by its name, and in any setup', () => {
    const web = { ...FORK, web: 1 } as JobStep;
    expect(codes([web, release('gap')])).toEqual([]);
    expect(codes([web, DRILL, release('gap')])).toEqual([]);
    expect(codes([web])).toEqual(['gap: web-never-released']);
    expect(codes([web, release('other')])).toEqual([
      'gap: web-never-released',
      'free other: release-too-early',
    ]);
    expect(codes([release('gap'), web])).toEqual(['free gap: release-too-early', 'gap: web-never-released']);
    expect(codes([FORK])).toEqual([]);
    expect(codes([DRILL, { ...DRILL, name: 'other' }, DRILL])).toEqual(['pin: step-named-twice']);
  });

  it('a cutter enters its own opening, not another of the kind', () => {
    const part: Part = {
      ...PLATE,
      forks: [
        { name: 'near', mouth: at(0, 9), direction: 0, width: 3, depth: 9, root: { kind: 'round' } },
        { name: 'gap', mouth: at(0, 20), direction: 0, width: 6, depth: 9, root: { kind: 'round' } },
      ],
      slots: [
        { name: 'short', from: at(30, 5), to: at(33, 5), width: 3, depth: null, face: 'front' },
        { name: 'long', from: at(30, 15), to: at(40, 15), width: 6, depth: null, face: 'front' },
      ],
      holes: [
        { name: 'small', purpose: 'clearance', centre: at(50, 5), diameter: 3, depth: null, from: 'front' },
        {
          ...{
            name: 'wide',
            purpose: 'counterbored',
            centre: at(50, 9),
            diameter: 3,
            depth: null,
            from: 'front',
          },
          ...{ boreDiameter: 6, boreDepth: 2 },
        } as Part['holes'][number],
        {
          ...{
            name: 'tight',
            purpose: 'counterbored',
            centre: at(50, 20),
            diameter: 3,
            depth: null,
            from: 'front',
          },
          ...{ boreDiameter: 5, boreDepth: 2 },
        } as Part['holes'][number],
      ],
    };
    const cut = (kind: string, name: string) =>
      codes([{ ...FORK, kind, name: 'it', [kind === 'pocket' ? 'hole' : kind]: name } as never], part);
    const wide = ['it: cutter-too-wide'];
    expect([cut('fork', 'near'), cut('fork', 'gap'), cut('fork', 'gone')]).toEqual([wide, [], []]);
    expect([cut('slot', 'short'), cut('slot', 'long'), cut('slot', 'gone')]).toEqual([wide, [], []]);
    expect([cut('pocket', 'tight'), cut('pocket', 'wide'), cut('pocket', 'gone')]).toEqual([wide, [], []]);
    // A hole milled round is as wide as its step makes it.
    expect(cut('pocket', 'small')).toEqual([]);
  });
});

describe('of a vice', () => {
  const box = { stock: [{ bottom: -6, top: 0, region: rectangle(at(0, 0), at(60, 30)) }], wanted: [] };
  const held = (near: number, far: number, grip: number, thickness = 6) => {
    const jaws = { top: 0, footprint: { contours: [] }, contact: { near, far }, faces: { near: 0, far: 30 } };
    const scene = {
      part: { ...PLATE, bar: { ...PLATE.bar, thickness } },
      setup: { number: 2, hold: { ...VICE, grip } },
      jaws,
    } as unknown as Scene;
    return holdFindings(scene, box, []).map((f) => `${f.severity} ${f.code} ${f.setup}: ${f.message}`);
  };
  const poor = (length: string) =>
    `warning poor-contact 2: Setup 2: one jaw bears on only ${length} of flat; use soft jaws, pack it, or hold it down another way.`;

  it('a jaw bears on four millimetres or it is said, whichever it is', () => {
    expect(held(4, 40, 2)).toEqual([]);
    expect(held(40, 4, 2)).toEqual([]);
    expect(held(3.99, 40, 2)).toEqual([poor('3.99 mm')]);
    expect(held(40, 2.5, 2)).toEqual([poor('2.5 mm')]);
    expect(held(0, 0, 2)).toEqual([poor('0 mm')]);
  });

  it('less than 1.5 mm and a third of the bar is a small grip', () => {
    const small = (grip: string) =>
      `note small-grip 2: Setup 2: only ${grip} is held; keep the passes light.`;
    expect(held(9, 9, 1.5)).toEqual([]);
    expect(held(9, 9, 1.49)).toEqual([small('1.49 mm')]);
    expect(held(9, 9, 1, 3)).toEqual([]);
    expect(held(9, 9, 0.99, 3)).toEqual([small('0.99 mm')]);
    expect(held(9, 9, 1.2, 3)).toEqual([]);
    expect(held(9, 9, 1.6, 9)).toEqual([]);
  });

  it('jaws that close on nothing are an error, and nothing else is said', () => {
    const scene = (jaws: unknown) =>
      ({ part: PLATE, setup: { number: 2, hold: { ...VICE, grip: 0.1 } }, jaws }) as Scene;
    const nothing = [
      {
        setup: 2,
        code: 'nothing-gripped',
        severity: 'error',
        message: 'Setup 2: the jaws close on nothing.',
      },
    ];
    const faces = { near: 0, far: 1 };
    for (const jaws of [null, { contact: null, faces }, { contact: faces, faces: null }])
      expect(holdFindings(scene(jaws), box, [])).toEqual(nothing);
  });
});

const bar = { ...PLATE.bar, corner: at(-10, 4) };
const work: Workpiece = {
  stock: [{ bottom: -6, top: 0, region: rectangle(at(0, 0), at(60, 30)) }],
  wanted: [],
};
const pass = (z: number, moves: readonly Move[] = []): Pass => ({ kind: 'rough', z, web: null, moves });
/** The bar is 30 wide: parallels 4 thick with their middles 10 from the bar's, so that they stand from 8 to 12. */
const PARALLELS = { height: 10, thickness: 4, offset: 10 };
const checked = (
  step: JobStep,
  passes: readonly Pass[],
  { parallels = PARALLELS as typeof PARALLELS | null, face = 'front' as 'front' | 'back', flutes = 20 } = {},
) => {
  const scene = {
    part: { ...PLATE, bar },
    setup: { number: 4, hold: { ...VICE, parallels } },
    frame: frameOf(bar, face, 'left-near'),
  } as unknown as Scene;
  return checkStep(scene, work, step, { ...endmill(6), fluteLength: flutes }, passes);
};

describe('of a job step', () => {
  it('that it goes deeper than its flutes: no deeper than the work is thick, and not for a spot or a tap', () => {
    const said = (z: number, flutes: number, step: JobStep = FORK) =>
      checked(step, [pass(-1), pass(z), pass(-2)], { flutes, parallels: null });
    expect(said(-5, 5)).toEqual([]);
    expect(said(-5, 4.99)).toEqual([
      {
        code: 'flutes-too-short',
        severity: 'error',
        feature: 'gap',
        setup: 4,
        message: 'gap is 5 mm deep, but 6 mm endmill cuts only 4.99 mm beside itself.',
      },
    ]);
    // The overcut below the work is not counted.
    expect(said(-6.2, 6)).toEqual([]);
    expect(said(-6.2, 5.9)[0]!.message).toContain('gap is 6 mm deep');
    expect(said(-5, 4, { ...DRILL, kind: 'drill' })).toHaveLength(1);
    for (const kind of ['spot', 'tap'] as const)
      expect(said(-5, 4, { ...DRILL, kind } as JobStep)).toEqual([]);
    expect(checked(FORK, [], { flutes: 0.5, parallels: null })).toEqual([]);
  });

  const through = (y: number, z = -6.2): Move => ({ kind: 'feed', to: { x: 5, y, z }, feed: 100 });
  const over = (moves: readonly Move[], more: Parameters<typeof checked>[2] = {}): string[] =>
    checked(FORK, [pass(-1), pass(-6.2, moves)], more).map((f) => f.message);
  const words = (remedy: string) => [`gap goes through above a parallel; ${remedy}.`];
  const thinner = (mm: string) => words(`use one ${mm} mm thick or thinner there, set against the jaw`);
  const farther = (mm: string) => words(`set that parallel ${mm} mm farther out, or use a thinner one`);
  const none = words('there is no room for one between the cut and the jaw: hold the work another way there');

  it('that it goes through over a parallel, on either side of the bar’s middle, and what would do', () => {
    // Its middle lies at Y 15; a cut of 6 mm reaches 8 mm from there with its own 5 mm off it.
    for (const side of [1, -1]) {
      expect(over([through(15 + side * 5)])).toEqual([]);
      expect(over([through(15 + side * 5.5)])).toEqual(farther('0.7'));
      // 15 − 8 − 3.2 leave 3.8 mm to the jaw, less than the parallel's 4; and 1.51 and 1.49.
      expect(over([through(15 + side * 7.7)])).toEqual(farther('2.9'));
      expect(over([through(15 + side * 8)])).toEqual(thinner('3.8'));
      expect(over([through(15 + side * 10.29)])).toEqual(thinner('1.51'));
      expect(over([through(15 + side * 10.31)])).toEqual(none);
      // Farther out it is beyond the parallel altogether.
      expect(over([through(15 + side * 15)])).toEqual(none);
      expect(over([through(15 + side * 15.01)])).toEqual([]);
      expect(over([through(15 + side * 8)], { face: 'back' })).toEqual(thinner('3.8'));
    }
    expect(checked(FORK, [pass(-6.2, [through(20.5)])])[0]).toMatchObject({
      code: 'over-parallel',
      severity: 'warning',
      feature: 'gap',
      setup: 4,
    });
  });

  it('by the worst of its places', () => {
    expect(over([through(20.5), through(22), through(21)])).toEqual(farther('2.2'));
    expect(over([through(8), through(9.5)])).toEqual(farther('2.2'));
  });

  it('at a drill’s depth and where feeds and arcs end below the work, and nowhere else', () => {
    const arc: Move = {
      ...{ kind: 'arc', centre: at(5, 20), clockwise: true },
      feed: 1,
      to: { x: 5, y: 22, z: -6.2 },
    };
    const drill: Move = {
      ...{ kind: 'drill', at: at(5, 22), clear: 1, depth: -6.2, peck: 0, dwell: 0, feed: 50 },
    };
    expect(over([arc])).toEqual(farther('2.2'));
    expect(over([drill])).toEqual(farther('2.2'));
    expect(over([through(22, -6)])).toEqual([]);
    expect(over([{ ...arc, to: { ...arc.to, z: -6 } } as Move])).toEqual([]);
    expect(over([{ ...drill, depth: -6 } as Move])).toEqual([]);
    expect(
      over([
        { kind: 'rapid', to: { x: 5, y: 22, z: -7 } },
        { kind: 'stop', message: '' },
      ]),
    ).toEqual([]);
  });

  it('nothing where there are none, or the work lies on a plate', () => {
    expect(over([through(22)], { parallels: null })).toEqual([]);
    const onPlate = {
      ...{ part: { ...PLATE, bar }, setup: { number: 4, hold: { ...TAPE, parallels: PARALLELS } } },
      frame: frameOf(bar, 'front', 'left-near'),
    } as unknown as Scene;
    expect(checkStep(onPlate, work, FORK, endmill(6), [pass(-6.2, [through(22)])])).toEqual([]);
  });
});

describe('of what is left', () => {
  const want = [{ bottom: 0, top: 4, region: rectangle(at(0, 0), at(20, 10)) }];
  const ear = (x: number, y = 2) => rectangle(at(x, y), at(x + 2, y + 2));
  const left = (bottom: number, top: number, region = ear(20), unit: 'mm' | 'inch' = 'mm') =>
    leftoverFindings([{ bottom, top, region }], want, unit);

  it('its area and its middle, in the file’s unit', () => {
    expect(left(1, 4)).toEqual([
      {
        code: 'not-reached',
        severity: 'note',
        at: { x: 21, y: 3, z: 1 },
        message:
          'About 4 mm² is left at X 21.0 Y 3.0 where no chosen cutter reaches: file it, or allow a corner radius there.',
      },
    ]);
    expect(left(1, 4, ear(20), 'inch')[0]!.message).toContain('About 0.0062 in² is left at X 0.83 Y 0.12');
  });

  it('once for each place, however many slabs it is cut into', () => {
    const slabs = [0, 1, 2].map((z) => ({ bottom: z, top: z + 1, region: ear(20) }));
    expect(leftoverFindings(slabs, want, 'mm')).toHaveLength(1);
    expect(leftoverFindings([...slabs, { bottom: 0, top: 1, region: ear(20, 6) }], want, 'mm')).toHaveLength(
      2,
    );
  });

  it('only where it stands at the height of the part, by more than a thousandth', () => {
    expect(left(3.9995, 5)).toEqual([]);
    expect(left(3.998, 5)).toHaveLength(1);
    expect(left(-2, 0.0005)).toEqual([]);
    expect(left(-2, 0.002)).toHaveLength(1);
  });
});
