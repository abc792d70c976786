import { describe, expect, it } from 'vitest';
import type { Part } from '../sketch/part/part.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { MachineProfile } from '../toolpath/machine/profile.ts';
import { runningTerms } from '../toolpath/machine/speeds.ts';
import { planRoute } from '../toolpath/passes/plan.ts';
import type { Hold, JobStep, Setup } from '../toolpath/route/route.ts';
import { LINK, PLATE, planned, TAPE, TERMS } from './passes-programs.ts';

// What a plan takes from a route and a machine: speeds and feeds, what is left out and why, what the next setup finds.

const at = (x: number, y: number) => ({ x, y });
const part: Part = {
  ...PLATE,
  holes: [{ name: 'pin', purpose: 'reamed', centre: at(50, 8), diameter: 4, depth: null, from: 'front' }],
  slots: [{ name: 'gap', from: at(20, 15), to: at(40, 15), width: 5, depth: null, face: 'front' }],
};
const { feed: _, ...terms } = TERMS;
const SLOT: JobStep = {
  ...terms,
  kind: 'slot',
  name: 'slot',
  slot: 'gap',
  cutter: '5 mm endmill',
  web: 1,
  engagement: null,
};
const FREE: JobStep = {
  ...{ kind: 'release', name: 'free', of: 'slot', cutter: '5 mm endmill' },
  stepDown: 0.5,
  feedShare: 0.5,
};
const hole = (kind: 'spot' | 'drill' | 'ream', cutter: string, more: object = {}): JobStep =>
  ({ kind, name: kind, cutter, holes: ['pin'], peck: 2, ...more }) as JobStep;
const first = (
  steps: readonly JobStep[],
  profile: MachineProfile = standardProfile,
  over: Partial<Setup> = {},
) => planned(part, steps, over, profile).setups[0]!.steps;

describe('a job step runs', () => {
  const usual = (name: string, work: Parameters<typeof runningTerms>[3]) =>
    runningTerms('brass', standardProfile.cutters.find((c) => c.name === name)!, standardProfile, work);

  it('as the machine’s terms say for what it is', () => {
    const steps = first([
      SLOT,
      hole('spot', '6 mm spot drill'),
      hole('drill', '3.8 mm drill'),
      hole('ream', '4 mm reamer'),
      FREE,
    ]);
    const wanted = [
      usual('5 mm endmill', 'mill'),
      usual('6 mm spot drill', 'spot'),
      usual('3.8 mm drill', 'drill'),
      usual('4 mm reamer', 'ream'),
    ];
    expect(steps.slice(0, 4).map((s) => [s.speed, s.feed])).toEqual(wanted.map((t) => [t.speed, t.feed]));
    const mill = wanted[0]!;
    expect(steps[4]).toMatchObject({ speed: mill.speed, feed: mill.feed * 0.5 });
    expect(steps[4]!.plungeFeed).toBe(Math.min(mill.plungeFeed, mill.feed * 0.5));
    const { name } = standardProfile.cutters.find((c) => c.kind === 'tap')!;
    const tapped = first([{ kind: 'tap', name: 'tap', cutter: name, holes: ['pin'] }])[0]!;
    expect([tapped.speed, tapped.feed]).toEqual([usual(name, 'drill').speed, usual(name, 'drill').feed]);
  });

  it('as its own terms say where it has any, and never plunges faster than it feeds', () => {
    const [own, free] = first([
      { ...SLOT, speed: 1234, feed: 33 },
      { ...FREE, feed: 60 },
    ]);
    expect(own).toMatchObject({ speed: 1234, feed: 33, plungeFeed: 33 });
    expect(free).toMatchObject({ feed: 30, plungeFeed: 30 });
  });

  it('through what is gone at the machine’s fastest, but not by hand', () => {
    const outline: JobStep = {
      ...{ ...TERMS, kind: 'outline', name: 'round', cutter: '6 mm endmill', floor: 2, clear: 'all', web: 0 },
      ...{ bridges: null, engagement: null, feed: 200 },
    };
    const feeds = (profile: MachineProfile) => {
      const { passes } = planned(LINK, [outline], {}, profile).setups[0]!.steps[0]!;
      return Math.max(...passes.flatMap((p) => p.moves.flatMap((m) => ('feed' in m ? [m.feed] : []))));
    };
    const screw = { unit: 'mm', pitch: 2, graduations: 100, backlash: 0 } as never;
    const byHand = { ...standardProfile, hand: { unit: 'mm', readout: false, x: screw, y: screw, z: screw } };
    expect(feeds(standardProfile)).toBe(standardProfile.feed.most);
    expect(feeds(byHand as MachineProfile)).toBe(200);
  });
});

describe('a job step is left out', () => {
  const told = (steps: readonly JobStep[], over: Partial<Setup> = {}, of = part) => {
    const { setups, findings } = planned(of, steps, over);
    return [
      setups[0]!.steps.map((s) => s.step.name),
      findings.filter((f) => f.code !== 'not-reached').map((f) => `${f.setup} ${f.feature} ${f.code}`),
    ];
  };

  it('where its cutter is not owned, its terms are amiss, it cannot be, or something stands in its way', () => {
    const whole = { ...SLOT, web: 0 } as JobStep;
    expect(told([{ ...whole, cutter: 'none' } as JobStep])).toEqual([[], ['1 slot cutter-not-owned']]);
    expect(told([{ ...whole, stepDown: 0 } as JobStep, hole('drill', '3.8 mm drill')])).toEqual([
      ['drill'],
      ['1 slot pass-too-shallow'],
    ]);
    expect(told([{ ...whole, slot: 'none' } as JobStep])).toEqual([[], ['1 slot step-impossible']]);
    const hold: Hold = {
      kind: 'plate',
      fastening: {
        kind: 'screws',
        thread: 'M4',
        places: [
          { ...at(30, 15), hole: null },
          { ...at(50, 8), hole: null },
        ],
      },
    };
    expect(told([hole('drill', '3.8 mm drill')], { hold })[0]).toEqual([]);
    expect(told([hole('drill', '3.8 mm drill')], { hold })[1]).toContain('1 drill foot-in-the-way');
  });

  it('where there is nothing for it to do, without a word', () => {
    const outline: JobStep = {
      ...{ ...TERMS, kind: 'outline', name: 'round', cutter: '6 mm endmill', floor: 0, clear: 'all', web: 0 },
      ...{ bridges: null, engagement: null },
    };
    expect(told([outline])).toEqual([[], []]);
  });

  it('and nothing of it is gone for those after it', () => {
    const twice = planned(part, [
      { ...SLOT, web: 0, stepDown: 0 } as JobStep,
      { ...SLOT, name: 'again', web: 0 } as JobStep,
    ]);
    expect(twice.setups[0]!.steps[0]!.passes[0]!.z).toBeCloseTo(-1.55, 9);
    const then = planned(part, [
      { ...SLOT, web: 0 } as JobStep,
      { ...SLOT, name: 'again', web: 0 } as JobStep,
    ]);
    expect(then.setups[0]!.steps.map((s) => s.step.name)).toEqual(['slot']);
  });
});

describe('a setup after another', () => {
  it('finds what that has left, turned over', () => {
    const setup = (number: number, face: Setup['face'], steps: readonly JobStep[]): Setup => ({
      ...{ number, face, datum: 'left-near', workOffset: 'G54', hold: TAPE, steps },
    });
    const deep = { ...part, slots: [{ ...part.slots[0]!, depth: 2 }] };
    const plan = planRoute(
      deep,
      { setups: [setup(1, 'front', [{ ...SLOT, web: 0 } as JobStep]), setup(2, 'back', [])] },
      standardProfile,
    );
    expect(plan.setups[0]!.stock).toEqual({ min: { x: 0, y: 0, z: -6 }, max: { x: 60, y: 30, z: 0 } });
    expect(plan.setups[0]!.clearHeight).toBe(5);
    expect(plan.setups[1]!.standing.map((s) => [s.bottom, s.top])).toEqual(
      expect.arrayContaining([
        [-4, 0],
        [-6, -4],
      ]),
    );
    expect(plan.findings.filter((f) => f.severity === 'error')).toEqual([]);
  });
});
