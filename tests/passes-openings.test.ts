import { describe, expect, it } from 'vitest';
import type { Part } from '../sketch/part/part.ts';
import type { JobStep, Setup } from '../toolpath/route/route.ts';
import { PLATE, planned, TERMS } from './passes-programs.ts';

// Forks, slots and round pockets in a plate 6 thick: how deep they go, what is left under them, whether they are cut on
// their centre line, and what is said where a limit of engagement cannot be kept.

const at = (x: number, y: number) => ({ x, y });
const ROUND = { kind: 'round' } as const;
const rad = (degrees: number): number => (degrees * Math.PI) / 180;
const forked = (width: number, root: Part['forks'][number]['root'] = ROUND): Part => ({
  ...PLATE,
  forks: [{ name: 'gap', mouth: at(0, 15), direction: 0, width, depth: 16, root }],
});
const slotted = (width: number, depth: number | null = null): Part => ({
  ...PLATE,
  slots: [{ name: 'gap', from: at(20, 15), to: at(40, 15), width, depth, face: 'front' }],
});
const holed = (
  diameter: number,
  depth: number | null,
  bore: readonly [number, number] | null = null,
): Part => ({
  ...PLATE,
  holes: [
    bore === null
      ? { name: 'gap', purpose: 'clearance', centre: at(30, 15), diameter, depth, from: 'front' }
      : {
          ...{ name: 'gap', purpose: 'counterbored', centre: at(30, 15), diameter, depth, from: 'front' },
          ...{ boreDiameter: bore[0], boreDepth: bore[1] },
        },
  ] as Part['holes'],
});
const step = (kind: 'fork' | 'slot' | 'pocket', cutter: number, more: object = {}): JobStep =>
  ({
    ...{
      ...TERMS,
      kind,
      name: 'it',
      [kind === 'pocket' ? 'hole' : kind]: 'gap',
      cutter: `${cutter} mm endmill`,
    },
    ...{ web: 0, engagement: null, ...more },
  }) as JobStep;
const FREE: JobStep = {
  kind: 'release',
  name: 'free',
  of: 'it',
  cutter: '4 mm endmill',
  stepDown: 0.5,
  feedShare: 0.5,
};
const cut = (part: Part, steps: JobStep | readonly JobStep[], over: Partial<Setup> = {}) => {
  const { setups, findings } = planned(part, [steps].flat(), over);
  const passes = setups[0]!.steps.flatMap((s) => s.passes);
  const ys = passes.flatMap((p) => p.moves.flatMap((m) => ('to' in m ? [m.to.y] : [])));
  return {
    heights: passes.map((p) => Number(p.z.toFixed(3))),
    webs: passes.map((p) => p.web && Number(p.web.toFixed(3))),
    kinds: [...new Set(passes.map((p) => p.kind))],
    onLine: ys.every((y) => Math.abs(y - ys[0]!) < 1e-9),
    said: findings
      .filter((f) => f.code !== 'not-reached')
      .map((f) => `${f.severity} ${f.code}: ${f.message}`),
  };
};

describe('an opening is cut on its centre line', () => {
  it('where its cutter is as wide as it is, to two hundredths', () => {
    for (const [kind, made] of [
      ['fork', forked],
      ['slot', slotted],
    ] as const) {
      expect(cut(made(5), step(kind, 5)).onLine).toBe(true);
      expect(cut(made(5.015), step(kind, 5)).onLine).toBe(true);
      expect(cut(made(4.985), step(kind, 5)).onLine).toBe(true);
      expect(cut(made(5.03), step(kind, 5)).onLine).toBe(false);
      expect(cut(made(8), step(kind, 5)).onLine).toBe(false);
    }
  });

  it('a fork only where its root is round, or its corners are', () => {
    const square = (cornerRadius: number) => ({ kind: 'square', cornerRadius }) as const;
    expect(cut(forked(5, square(2.49)), step('fork', 5)).onLine).toBe(true);
    expect(cut(forked(5, square(2.47)), step('fork', 5)).onLine).toBe(false);
  });
});

describe('an opening goes', () => {
  it('two tenths through the work, or down to its web, which is told at each pass and then released', () => {
    for (const [part, kind] of [
      [forked(5), 'fork'],
      [forked(7), 'fork'],
      [slotted(5), 'slot'],
      [slotted(7), 'slot'],
    ] as const) {
      const through = cut(part, step(kind, 5, { wallAllowance: 0 }));
      expect(through.heights).toEqual([-1.55, -3.1, -4.65, -6.2]);
      expect(through.webs).toEqual([4.45, 2.9, 1.35, 0]);
      expect(through.kinds).toEqual(['rough']);
      const kept = cut(part, [step(kind, 5, { wallAllowance: 0, web: 1 }), FREE]);
      expect(kept.heights).toEqual([-1.667, -3.333, -5, -5.4, -5.8, -6.2]);
      expect(kept.webs).toEqual([4.333, 2.667, 1, 0.6, 0.2, 0]);
      expect(kept.kinds).toEqual(['rough', 'release']);
      expect(kept.said).toEqual([]);
    }
  });

  it('to its depth under its own land, with no web to tell', () => {
    for (const width of [5, 7]) {
      const blind = cut(slotted(width, 2.5), step('slot', 5, { wallAllowance: 0 }));
      expect(blind.heights).toEqual([-1.25, -2.5]);
      expect(blind.webs).toEqual([null, null]);
    }
    // Its middle lies on a land 1 mm lower.
    const lands: Part['lands'] = [
      { name: 'low', shape: { kind: 'disc', centre: at(30, 15), radius: 8 }, top: 5, bottom: 0 },
    ];
    expect(cut({ ...slotted(5, 2.5), lands }, step('slot', 5)).heights.at(-1)).toBe(-3.5);
    const bore = step('pocket', 5, { wallAllowance: 0 });
    expect(cut(holed(4, null, [9, 2.2]), bore).heights.at(-1)).toBe(-2.2);
    expect(cut({ ...holed(4, null, [9, 2.2]), lands }, bore).heights.at(-1)).toBe(-3.2);
    expect(cut(holed(9, 3), bore).heights.at(-1)).toBe(-3);
    expect(cut(holed(9, null), bore).heights.at(-1)).toBe(-6.2);
    expect(cut(holed(9, null), bore).webs[0]).toBeNull();
  });

  it('as wide as it is drawn: a counterbore as its bore, a hole as itself', () => {
    const reach = (part: Part): number => {
      const [done] = planned(part, [step('pocket', 4, { wallAllowance: 0 })]).setups[0]!.steps;
      const xs = done!.passes.flatMap((p) =>
        p.moves.flatMap((m) => ('to' in m ? [Math.abs(m.to.x - 30)] : [])),
      );
      return Math.max(...xs);
    };
    expect(reach(holed(4, null, [9, 2]))).toBeCloseTo(2.5, 3);
    expect(reach(holed(8, 2))).toBeCloseTo(2, 3);
  });

  it('nowhere where the part has it no more', () => {
    const said = (kind: 'fork' | 'slot' | 'pocket') => cut(PLATE, step(kind, 5)).said;
    expect(said('fork')).toEqual(['error step-impossible: it: the part has no fork "gap".']);
    expect(said('slot')).toEqual(['error step-impossible: it: the part has no slot "gap".']);
    expect(said('pocket')).toEqual(['error step-impossible: it: the part has no hole "gap".']);
  });
});

describe('where an opening has no room for its cutter to go round', () => {
  const words = (cutter: string, limit: number) => [
    `warning engagement-not-kept: it: the ${cutter} has no room to go round in it, and is buried by more than the ${limit}° that are stated; a smaller cutter would do.`,
  ];

  it('it is said that its limit is not kept, and it is cut all the same', () => {
    const limit = { engagement: rad(60.4) };
    // A cutter of 5 goes round on a quarter of a millimetre in 5.5, and on less in 5.4.
    for (const [kind, made] of [
      ['fork', forked],
      ['slot', slotted],
      ['pocket', (width: number) => holed(width, 3)],
    ] as const) {
      const narrow = cut(made(5.4), step(kind, 5, limit));
      expect(narrow.said).toEqual(words('5 mm endmill', 60));
      expect(narrow.heights.length).toBeGreaterThan(0);
      expect(cut(made(7), step(kind, 5, limit)).said).toEqual([]);
      expect(cut(made(5.4), step(kind, 5)).said).toEqual([]);
    }
    expect(cut(forked(5), step('fork', 5, limit)).said).toEqual(words('5 mm endmill', 60));
    expect(cut(slotted(5), step('slot', 5, limit)).said).toEqual(words('5 mm endmill', 60));
  });
});
