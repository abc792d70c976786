import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeAll, planPart } from '../gcode/chain.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { SAMPLES, sampleText } from './samples.ts';
import './seed.ts';

/** Job steps under a stated engagement, down the whole chain: the proof measures it from the written programs. */

const RUNS = Number(process.env.GENTLE ?? 6);

interface Made {
  readonly verdict: string;
  readonly errors: readonly string[];
  /** Degrees over the limit, by pass; never more than five. */
  readonly over: readonly { readonly pass: string; readonly by: number }[];
  readonly measured: number;
  readonly found: readonly string[];
}

/** The part with limits laid on every step that can bear one: each release with the cutter of what it releases. */
const gentle = (text: string, limits: (step: string) => number, cutterShare: number): Made => {
  const plain = planPart(text);
  if (!plain.ok) throw new Error(plain.findings.map((f) => f.message).join(' '));
  const { part, route } = plain;
  const steps = route.setups.flatMap((s) => s.steps);
  const cutterFor = (width: number): string =>
    standardProfile.cutters
      .filter((c) => c.kind === 'endmill' && c.fluteLength > part.bar.thickness)
      .filter((c, i) => i === 0 || c.diameter <= width * cutterShare)
      .reduce((a, b) => (b.diameter > a.diameter ? b : a)).name;
  const adjust: Record<string, object> = {};
  for (const step of steps) {
    if (!('engagement' in step)) continue;
    const width =
      step.kind === 'fork'
        ? part.forks.find((f) => f.name === step.fork)!.width
        : step.kind === 'slot'
          ? part.slots.find((s) => s.name === step.slot)!.width
          : step.kind === 'pocket'
            ? boreOf(part.holes.find((h) => h.name === step.hole)!)
            : null;
    if (width === null) continue;
    const fork = step.kind === 'fork' ? part.forks.find((f) => f.name === step.fork) : undefined;
    const corner = fork?.root.kind === 'square' ? 2 * fork.root.cornerRadius : Number.POSITIVE_INFINITY;
    const cutter = cutterFor(Math.min(width, corner / cutterShare));
    adjust[step.name] = { engagement: limits(step.name), cutter };
    for (const r of steps) if (r.kind === 'release' && r.of === step.name) adjust[r.name] = { cutter };
  }
  const made = makeAll(JSON.stringify({ ...JSON.parse(text), route: { adjust } }));
  if (!made.ok) throw new Error(made.findings.map((f) => f.message).join(' '));
  const passes = made.proof.setups.flatMap((s) => s.passes).filter((p) => p.engagement);
  return {
    verdict: made.proof.verdict,
    errors: made.proof.findings.filter((f) => f.severity === 'error').map((f) => f.message),
    over: passes.flatMap((p) => {
      const { most_deg, limit_deg, line } = p.engagement!;
      const by = most_deg - limit_deg!;
      return by > 5 ? [{ pass: `${p.step} ${p.kind} ${p.z_mm} line ${line} limit ${limit_deg}`, by }] : [];
    }),
    measured: passes.length,
    found: made.proof.findings.map((f) => f.code),
  };
};

const boreOf = (hole: object): number =>
  'boreDiameter' in hole ? (hole.boreDiameter as number) : 'diameter' in hole ? (hole.diameter as number) : 0;

const sound = (made: Made): void => {
  expect(made.errors).toEqual([]);
  expect(made.verdict).toBe('fits');
  expect(made.over).toEqual([]);
  expect(made.measured).toBeGreaterThan(0);
  expect(made.found.filter((code) => code.startsWith('engagement'))).toEqual([]);
};

describe('every sample with a limit on its forks, slots and pockets', () => {
  test.each(SAMPLES.filter((name) => name !== 'winch-bell-crank'))(
    '%s keeps 60° and fits',
    (name) => sound(gentle(sampleText(name), () => 60, 0.75)),
    60_000,
  );
});

/** A plate with an open fork, a closed slot and a counterbore, each of random size. */
const plate = fc.record({
  thickness: fc.integer({ min: 5, max: 9 }),
  margin: fc.constantFrom(0, 1, 3),
  fork: fc.record({
    width: fc.integer({ min: 50, max: 110 }).map((n) => n / 10),
    depth: fc.integer({ min: 8, max: 14 }),
    corner: fc.constantFrom(0, 1.5, 2, 2.7),
  }),
  slot: fc.record({
    width: fc.integer({ min: 45, max: 90 }).map((n) => n / 10),
    length: fc.integer({ min: 0, max: 8 }),
    turn: fc.integer({ min: -60, max: 60 }),
  }),
  bore: fc.integer({ min: 70, max: 130 }).map((n) => n / 10),
  limits: fc.array(fc.integer({ min: 35, max: 120 }), { minLength: 3, maxLength: 3 }),
  share: fc.double({ min: 0.45, max: 0.85, noNaN: true }),
});

const documentOf = (p: (typeof plate extends fc.Arbitrary<infer T> ? T : never) & object): string => {
  const a = (p.slot.turn * Math.PI) / 180;
  const half = p.slot.length / 2;
  return JSON.stringify({
    format: 'leverwright-part',
    version: 1,
    name: 'plate',
    unit: 'mm',
    bar: {
      length: 70 + 2 * p.margin,
      width: 28 + 2 * p.margin,
      thickness: p.thickness,
      material: 'aluminium',
      corner: [-p.margin, -14 - p.margin],
    },
    plates: [
      {
        name: 'plate',
        rectangle: [
          [0, -14],
          [70, 14],
        ],
        cornerRadius: 4,
      },
    ],
    forks: [
      {
        name: 'fork',
        mouth: [0, 0],
        direction: 0,
        width: p.fork.width,
        depth: p.fork.depth,
        ...(p.fork.corner > 0
          ? { root: 'square', cornerRadius: Math.min(p.fork.corner, p.fork.width / 2) }
          : { root: 'round' }),
      },
    ],
    slots: [
      {
        name: 'slot',
        from: [31 - half * Math.cos(a), -half * Math.sin(a)],
        to: [31 + half * Math.cos(a), half * Math.sin(a)],
        width: p.slot.width,
      },
    ],
    holes: [
      {
        name: 'bush',
        purpose: 'counterbored',
        centre: [56, 0],
        diameter: 4,
        boreDiameter: p.bore,
        boreDepth: 2.5,
      },
    ],
  });
};

test('random pockets, forks and slots under random limits: the proof finds no more than five degrees over, and the part fits', () => {
  fc.assert(
    fc.property(plate, (p) => {
      const limits: Record<string, number> = {};
      sound(
        gentle(
          documentOf(p),
          (step) => {
            limits[step] ??= p.limits[Object.keys(limits).length % 3]!;
            return limits[step];
          },
          p.share,
        ),
      );
    }),
    { numRuns: RUNS, endOnFailure: true },
  );
}, 240_000);
