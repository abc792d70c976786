import { describe, expect, it } from 'vitest';
import type { Part } from '../sketch/part/part.ts';
import { difference, union } from '../sketch/shape/boolean.ts';
import { disc, NOTHING, rectangle, regionArea } from '../sketch/shape/region.ts';
import type { Cleared } from '../toolpath/passes/area.ts';
import { planMemory } from '../toolpath/passes/plan-memory.ts';
import { plugged } from '../toolpath/passes/plugs.ts';
import type { Scene, Task } from '../toolpath/passes/scene.ts';
import type { Workpiece } from '../toolpath/passes/workpiece.ts';
import type { JobStep } from '../toolpath/route/route.ts';
import { PLATE } from './passes-programs.ts';
import { endmill } from './passes-samples.ts';

// What a planner remembers of a job step, by which it knows it again, and what it need not see.

const at = (x: number, y: number) => ({ x, y });
const hole = (name: string, x: number, y = 5, diameter = 4) =>
  ({ name, purpose: 'clearance', centre: at(x, y), diameter, depth: null, from: 'front' }) as const;
const slot = (name: string, y: number) =>
  ({ name, from: at(10, y), to: at(20, y), width: 5, depth: null, face: 'front' }) as const;
const fork = (name: string, y: number) =>
  ({ name, mouth: at(0, y), direction: 0, width: 5, depth: 12, root: { kind: 'round' } }) as const;
const PART: Part = {
  ...PLATE,
  holes: [hole('a', 12), hole('b', 55)],
  slots: [slot('s', 15), slot('t', 25)],
  forks: [fork('f', 15), fork('g', 25)],
  lands: [{ name: 'low', shape: { kind: 'disc', centre: at(30, 15), radius: 9 }, top: 4, bottom: 0 }],
};
const step = (kind: string, more: object): JobStep =>
  ({ kind, name: 'it', cutter: 'c', engagement: null, ...more }) as never;
const OTHER = step('outline', { name: 'other' });
const scene = (more: Partial<Scene> = {}): Scene =>
  ({
    ...{ part: PART, setup: { number: 1, hold: {}, steps: [OTHER] }, jaws: null, clearHeight: 5 },
    ...{ frame: { face: 'front', zero: at(0, 0) }, feet: { feet: [], keepOut: NOTHING, top: 0 } },
    ...{
      bare: [{ bottom: 0, top: 6, region: rectangle(at(0, 0), at(60, 30)) }],
      steps: new Map([['other', OTHER]]),
    },
    ...more,
  }) as unknown as Scene;
const BAR = rectangle(at(0, 0), at(60, 30));
const holed = difference(BAR, union([disc(at(12, 5), 2), disc(at(55, 5), 2)]));
const slabs = (region = holed, top = 6) => [{ bottom: 0, top, region }];
const work: Workpiece = { stock: slabs(BAR), wanted: slabs() };
const task = (of: JobStep, diameter = 4): Task =>
  ({ step: of, cutter: endmill(diameter), entry: {} }) as unknown as Task;

const remembering = (most?: number) => {
  const memory = planMemory(most);
  const seen: { scene: Scene; work: Workpiece }[] = [];
  const ask = (of: JobStep, sight = scene(), stock = work, diameter = 4): Cleared =>
    memory.recall(sight, stock, task(of, diameter), (s, w) => {
      seen.push({ scene: s, work: w });
      return { passes: [], work: { stock: slabs(BAR, 5), wanted: [] } };
    });
  return { memory, seen, ask };
};
const SLOT = step('slot', { slot: 's' });

describe('a job step is known again', () => {
  it('by all that it goes by, and what it left is given back with what is wanted now', () => {
    const { memory, ask } = remembering();
    const first = ask(SLOT);
    const again = ask(
      SLOT,
      scene({ part: { ...PART, name: 'else', holes: [...PART.holes, hole('c', 40)] } }),
    );
    expect(memory.counts).toEqual({ recalled: 1, made: 1 });
    expect(again.work.stock).toBe(first.work.stock);
    expect(again.work.wanted).toBe(work.wanted);
    expect(ask(SLOT, scene({ setup: { ...scene().setup, steps: [] } })).work.stock).toBe(first.work.stock);
    expect(memory.counts).toEqual({ recalled: 2, made: 1 });
  });

  it('not where anything of that is another', () => {
    const other: (readonly [JobStep, Scene?, Workpiece?, number?])[] = [
      [step('slot', { slot: 't' })],
      [step('slot', { slot: 's', web: 1 })],
      [SLOT, scene({ clearHeight: 6 })],
      [SLOT, scene({ bare: slabs(BAR, 5) })],
      [SLOT, scene({ part: { ...PART, slots: [{ ...slot('s', 15), width: 6 }, slot('t', 25)] } })],
      [SLOT, scene(), { ...work, stock: slabs(BAR, 5) }],
      [SLOT, scene(), { ...work, stock: [...slabs(BAR), ...slabs(BAR, 3)] }],
      [SLOT, scene(), { ...work, wanted: slabs(difference(holed, disc(at(15, 15), 2))) }],
      [SLOT, scene(), work, 5],
    ];
    for (const change of other) {
      const { memory, ask } = remembering();
      ask(SLOT);
      ask(...change);
      expect(memory.counts).toEqual({ recalled: 0, made: 2 });
    }
  });

  it('of so many and no more, the one forgotten that was not asked for longest', () => {
    const { memory, ask } = remembering(2);
    const [a, b, c] = ['a', 'b', 'c'].map((name) => step('outline', { name }));
    for (const of of [a!, b!, a!, c!, a!]) ask(of);
    expect(memory.counts).toEqual({ recalled: 2, made: 3 });
    ask(b!);
    expect(memory.counts).toEqual({ recalled: 2, made: 4 });
  });
});

describe('a job step sees', () => {
  const seenBy = (of: JobStep, sight = scene()) => {
    const { seen, ask } = remembering();
    ask(of, sight);
    const { part, setup, steps } = seen[0]!.scene;
    return {
      features: [part.holes, part.slots, part.forks, part.lands].map((all) => all.map((f) => f.name).join()),
      name: part.name,
      others: [setup.steps.length, ...steps.keys()],
      wanted: seen[0]!.work.wanted,
    };
  };

  it('its own features of the part and no others', () => {
    expect(seenBy(SLOT)).toMatchObject({ features: ['', 's', '', ''], name: '', others: [0] });
    expect(seenBy(step('fork', { fork: 'g' })).features).toEqual(['', '', 'g', '']);
    expect(seenBy(step('pocket', { hole: 'b' })).features).toEqual(['b', '', '', '']);
    expect(seenBy(step('drill', { holes: ['a', 'b'] })).features).toEqual(['a,b', '', '', '']);
    expect(seenBy(step('drill', { holes: ['b'] })).features).toEqual(['b', '', '', '']);
    expect(seenBy(step('thin', { lands: ['low'] })).features).toEqual(['', '', '', 'low']);
    expect(seenBy(step('outline', {})).features).toEqual(['', '', '', '']);
  });

  it('what it releases, with that one’s features', () => {
    const steps = new Map([
      ['first', step('fork', { name: 'first', fork: 'f' })],
      ['other', OTHER],
    ]);
    const seen = seenBy(step('release', { of: 'first' }), scene({ steps }));
    expect(seen).toMatchObject({ features: ['', '', 'f', ''], others: [0, 'first'] });
  });

  it('the part as it is wanted where it cuts an opening: holes in reach open, those beyond filled', () => {
    const area = (of: JobStep) => Math.round(regionArea(seenBy(of).wanted[0]!.region) * 10) / 10;
    const one = 4 * Math.PI;
    expect(area(SLOT)).toBe(Math.round((1800 - one) * 10) / 10);
    expect(area(step('pocket', { hole: 'b' }))).toBe(Math.round((1800 - one) * 10) / 10);
    for (const kind of ['outline', 'thin', 'square']) expect(seenBy(step(kind, {})).wanted).toEqual([]);
  });
});

describe('holes of the stock', () => {
  const opened = (of: JobStep, diameter: number, holes: readonly (readonly [number, number])[]) => {
    const region = difference(BAR, union(holes.map(([x, r]) => disc(at(x, 15), r))));
    const seen = plugged(scene(), { stock: slabs(region), wanted: [] }, task(of, diameter));
    const [before, after] = [seen.work, seen.opened(seen.work)].map((w) => regionArea(w.stock[0]!.region));
    expect(after).toBeCloseTo(regionArea(region), 4);
    return Math.round(1800 - before!);
  };

  it('are filled for who clears about the part, if his cutter stands on their rims: 2.4 mm narrower than it', () => {
    for (const kind of ['outline', 'thin', 'square']) {
      expect(opened(step(kind, {}), 6, [[30, 1.79]])).toBe(0);
      expect(opened(step(kind, {}), 6, [[30, 1.81]])).toBe(10);
    }
    expect(opened(step('outline', { engagement: 1 }), 6, [[30, 1.7]])).toBe(9);
    expect(opened(step('drill', { holes: [] }), 6, [[30, 1.7]])).toBe(9);
  });

  it('are there again in the slabs that had them and in no others, in whatever order they lie', () => {
    const [high, low] = [
      { bottom: 3, top: 6, region: difference(BAR, disc(at(30, 15), 1.5)) },
      { bottom: 0, top: 3, region: BAR },
    ];
    for (const stock of [
      [high, low],
      [low, high],
    ]) {
      const { work: filled, opened: again } = plugged(
        scene(),
        { stock, wanted: [] },
        task(step('outline', {}), 6),
      );
      expect(filled.stock.map((s) => Math.round(regionArea(s.region)))).toEqual([1800, 1800]);
      const back = again(filled).stock.map((s) => [s.top, Math.round(regionArea(s.region))]);
      expect(back.sort()).toEqual([
        [3, 1800],
        [6, 1793],
      ]);
    }
  });

  it('are filled beyond the reach of an opening, and seen within', () => {
    // From 10 − 2.5 − 6 to 20 + 2.5 + 6 along X.
    expect(opened(SLOT, 4, [[50, 2]])).toBe(0);
    expect(opened(SLOT, 4, [[26, 2]])).toBe(13);
    expect(
      opened(SLOT, 4, [
        [26, 2],
        [50, 2],
      ]),
    ).toBe(13);
  });
});
