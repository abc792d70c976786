import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeAll, planPart, proofInput, writePrograms } from '../gcode/chain.ts';
import { prove } from '../gcode/proof/proof.ts';
import { sheetHtml } from '../gcode/sheet/sheet.ts';
import { solidOf } from '../sketch/part/solid.ts';
import { union } from '../sketch/shape/boolean.ts';
import { regionBox, signedDistance } from '../sketch/shape/region.ts';
import type { Move, PlannedSetup } from '../toolpath/passes/pass.ts';
import { planMemory } from '../toolpath/passes/plan-memory.ts';
import { toPart } from '../toolpath/route/frame.ts';
import { clampPlaces, type Foot, feetOf, padsOf } from '../toolpath/route/plate.ts';
import type { PlateHold } from '../toolpath/route/route.ts';
import { randomLever } from './random-lever.ts';
import { sampleText } from './samples.ts';

/** Random levers tried here; a soak asks for more with LEVERS=500. */
const LEVERS = Number(process.env.LEVERS ?? 14);

const withRoute = (name: string, route: object): string =>
  JSON.stringify({ ...JSON.parse(sampleText(name)), route });
const crank = (plate: object, more: object = {}): string =>
  withRoute('winch-bell-crank', { setups: { 1: { plate } }, ...more });
const planned = (text: string) => {
  const plan = planPart(text);
  if (!plan.ok) throw new Error(plan.findings.map((f) => f.message).join(' '));
  return plan;
};
const errors = (text: string): readonly string[] =>
  planned(text).findings.flatMap((f) => (f.severity === 'error' ? [f.code] : []));

/** Two screws on the frame round the crank. */
const SCREWS = {
  kind: 'screws',
  thread: 'M4',
  places: [
    { x: 36, y: 28 },
    { x: -14, y: -12 },
  ],
};

/** Places along a move in the part's plan, every tenth of a mm, with the height of the tip in the program. */
const looksAlong = (
  { frame }: PlannedSetup,
  from: { x: number; y: number; z: number },
  move: Move,
): readonly { x: number; y: number; z: number }[] => {
  if (move.kind === 'stop') return [];
  if (move.kind === 'drill') return [{ ...toPart(frame, { ...move.at, z: 0 }), z: move.depth }];
  const { to } = move;
  const [r, begin] =
    move.kind === 'arc'
      ? [
          Math.hypot(from.x - move.centre.x, from.y - move.centre.y),
          Math.atan2(from.y - move.centre.y, from.x - move.centre.x),
        ]
      : [0, 0];
  let turn = 0;
  if (move.kind === 'arc') {
    const end = Math.atan2(to.y - move.centre.y, to.x - move.centre.x);
    turn = move.clockwise ? begin - end : end - begin;
    turn = ((turn % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
    if (turn < 1e-9) turn = 2 * Math.PI;
    if (move.clockwise) turn = -turn;
  }
  const length = move.kind === 'arc' ? r * Math.abs(turn) : Math.hypot(to.x - from.x, to.y - from.y);
  const count = Math.max(1, Math.ceil(length / 0.1));
  return Array.from({ length: count + 1 }, (_, i) => {
    const t = i / count;
    const at =
      move.kind === 'arc'
        ? {
            x: move.centre.x + r * Math.cos(begin + turn * t),
            y: move.centre.y + r * Math.sin(begin + turn * t),
          }
        : { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t };
    return { ...toPart(frame, { ...at, z: 0 }), z: from.z + (to.z - from.z) * t };
  });
};

/** The nearest that any cutter comes to a place while its tip is below a height over the work, mm; its radius taken off. */
const nearest = (setup: PlannedSetup, at: { x: number; y: number }, over: number): number => {
  let least = Number.POSITIVE_INFINITY;
  for (const { passes, cutter } of setup.steps) {
    for (const pass of passes) {
      let from = { x: 0, y: 0, z: 1e3 };
      for (const move of pass.moves) {
        for (const p of looksAlong(setup, from, move)) {
          if (p.z > setup.stock.max.z + over) continue;
          least = Math.min(least, Math.hypot(p.x - at.x, p.y - at.y) - cutter.diameter / 2);
        }
        if (move.kind === 'drill') from = { ...move.at, z: move.clear };
        else if (move.kind !== 'stop') from = move.to;
      }
    }
  }
  return least;
};

describe('Work held on a plate', () => {
  test('is planned round the heads of its screws, proven, and every rapid goes over them', () => {
    const made = makeAll(crank(SCREWS));
    if (!made.ok) throw new Error(made.findings.map((f) => f.message).join(' '));
    expect(made.proof.verdict).toBe('fits');
    const [setup] = made.plan.setups;
    for (const at of SCREWS.places) expect(nearest(setup!, at, 4)).toBeGreaterThan(7 / 2 + 0.2);
    expect(setup!.clearHeight).toBeCloseTo(4 + 5, 9);
    expect(made.programs[0]!.text).toContain('(Hold: on a plate, M4 socket head screws at X54.5 Y44.902');
  });

  test('a planner that remembers its job steps forgets none of what stands on the work', () => {
    const memory = planMemory();
    for (const plate of [{ kind: 'tape' }, SCREWS, { ...SCREWS, thread: 'M6' }, { kind: 'tape' }]) {
      const text = crank(plate, { adjust: { outline: { clear: 'all', bridges: null, web: 1 } } });
      const remembered = planPart(text, { memory });
      expect(remembered.ok && remembered.plan).toEqual(planned(text).plan);
    }
    expect(memory.counts.recalled).toBeGreaterThan(0);
  });

  test('clearing the whole bar leaves islands under the screws, and nothing else', () => {
    const cleared = planned(crank(SCREWS, { adjust: { outline: { clear: 'all', bridges: null, web: 1 } } }));
    expect(cleared.findings.filter((f) => f.severity === 'error')).toEqual([]);
    const [setup] = cleared.plan.setups;
    for (const at of SCREWS.places) {
      const gap = nearest(setup!, at, 4) - 7 / 2;
      expect(gap).toBeGreaterThan(0.3);
      expect(gap).toBeLessThan(0.8);
    }
  });

  test('no random lever’s plan takes a cutter into a clamp’s foot: it goes round it, or says what is in the way', () => {
    let cut = 0;
    let refused = 0;
    const seen = (text: string): void => {
      const plan = planPart(text);
      if (!plan.ok) return;
      const { part } = plan;
      const outline = union(solidOf({ ...part, holes: [], slots: [], forks: [] }).slabs.map((s) => s.region));
      const places = [12.5, 8.5, 4.5, 0.5]
        .map((room) => clampPlaces(part.bar, (at) => signedDistance(outline, at), room))
        .find((found) => found.length > 0);
      // Where there is no room beside the part the clamps stand anywhere: then something must be said.
      const { corner, length, width } = part.bar;
      const feet = places ?? [corner, { x: corner.x + length / 2, y: corner.y + width }];
      const route = { setups: { 1: { plate: { kind: 'clamps', places: feet } } } };
      const held = planned(JSON.stringify({ ...plan.document, route }));
      const [setup] = held.plan.setups;
      for (const at of feet) {
        // A disc that the foot holds within itself, wherever it comes from.
        expect(nearest(setup!, at, 16)).toBeGreaterThan(6);
      }
      const codes = held.findings.filter((f) => f.severity === 'error').map((f) => f.code);
      if (codes.some((code) => code.startsWith('foot-'))) refused++;
      else if (setup!.steps.length > 0) cut++;
    };
    fc.assert(
      fc.property(randomLever, (lever) => seen(JSON.stringify(lever))),
      { numRuns: LEVERS },
    );
    expect(cut).toBeGreaterThan(0);
    expect(refused).toBeGreaterThan(0);
  }, 120_000);

  test('a program that goes into a clamp or a screw’s head is caught by the proof, and does not fit', () => {
    const plan = planned(crank({ kind: 'tape' }));
    const programs = writePrograms(plan.part, plan.plan, plan.profile);
    const input = proofInput(plan.part, plan.plan, programs, plan.profile);
    const told = (fastening: PlateHold['fastening']) =>
      prove({
        ...input,
        setups: input.setups.map((s) => ({ ...s, hold: { kind: 'plate', fastening } as const })),
      });
    const codes = (p: ReturnType<typeof told>) => p.findings.map((f) => `${f.severity} ${f.code}`);
    // The groove runs round the pivot end 8 mm from its middle: there the clamp is planted.
    const clamps = told({
      kind: 'clamps',
      force: 2500,
      places: [
        { x: 0, y: -11 },
        { x: 36, y: 28 },
      ],
    });
    expect(codes(clamps)).toContain('error clamp-hit');
    expect(clamps.verdict).toBe('does not fit');
    const screws = told({ kind: 'screws', thread: 'M4', places: [{ x: 0, y: -11, hole: null }] });
    expect(codes(screws)).toContain('error screw-hit');
    // The rapid above them counts too: drilling comes from 5 mm over the work, an M8 head stands 8.
    const tall = told({ kind: 'screws', thread: 'M8', places: [{ x: 13, y: 0, hole: null }] });
    expect(codes(tall)).toContain('error screw-hit');
    expect(prove(input).verdict).toBe('fits');
  });

  test('what is cut free of its screws is loose; what is glued stays', () => {
    const free = (plate: object) => {
      const made = makeAll(crank(plate, { adjust: { outline: { bridges: null } } }));
      if (!made.ok) throw new Error(made.findings.map((f) => f.message).join(' '));
      return made.proof.findings.map((f) => f.message);
    };
    expect(free(SCREWS).join()).toContain('The part itself comes free');
    expect(free({ kind: 'tape' })).toEqual([]);
  });

  test.each([
    ['one-foot', { ...SCREWS, places: [{ x: 36, y: 28 }] }],
    ['nothing-fastened', { kind: 'clamps', places: [] }],
    [
      'foot-on-nothing',
      {
        ...SCREWS,
        places: [
          { x: 60, y: 28 },
          { x: 36, y: 28 },
        ],
      },
    ],
    [
      'foot-on-part',
      {
        ...SCREWS,
        places: [
          { x: 5, y: 5 },
          { x: 36, y: 28 },
        ],
      },
    ],
    [
      'foot-too-near',
      {
        kind: 'clamps',
        places: [
          { x: -14, y: -12 },
          { x: 36, y: 28 },
        ],
      },
    ],
    ['screw-hole-not-there', { kind: 'screws', thread: 'M5', holes: ['pivot', 'cable pin'] }],
    ['screw-too-thick', { kind: 'screws', thread: 'M8', holes: ['pivot'] }],
    ['screw-head-too-small', { kind: 'screws', thread: 'M3', holes: ['pivot'] }],
    ['screw-hole-unknown', { kind: 'screws', thread: 'M3', holes: ['nowhere'] }],
    ['route-unreadable', { kind: 'screws', thread: 'M7' }],
    ['route-unreadable', { kind: 'magnet' }],
  ])('%s is said', (code, plate) => {
    expect(planned(crank(plate)).findings.map((f) => f.code)).toContain(code);
  });

  test('a cut that must go where a screw stands is refused by name', () => {
    expect(errors(crank({ kind: 'screws', thread: 'M5', holes: ['pivot'] }))).toContain('foot-in-the-way');
  });

  test('places are in the file’s unit, and the vice’s own figures wait for it to come back', () => {
    const inches = JSON.parse(sampleText('bellows-lever'));
    expect(inches.unit).toBe('inch');
    const setups = { 1: { grip: 0.09, plate: { kind: 'clamps', places: [{ x: 0.5, y: -0.25 }] } } };
    const held = planned(JSON.stringify({ ...inches, route: { setups } }));
    expect(held.route.setups[0]!.hold).toEqual({
      kind: 'plate',
      fastening: { kind: 'clamps', force: 2500, places: [{ x: 12.7, y: -6.35 }] },
    });
    // Clamps of one's own are told by their size, in the file's unit too; what cuts keeps clear of them as they are.
    const size = { width: 1, reach: 0.25, height: 0.5 };
    const own = planned(
      JSON.stringify({
        ...inches,
        route: { setups: { 1: { plate: { ...setups[1].plate, size } } } },
      }),
    );
    const { hold } = own.route.setups[0]!;
    if (hold.kind !== 'plate') throw new Error('held otherwise');
    const [foot] = feetOf(hold, own.part.bar);
    const [usual] = feetOf(held.route.setups[0]!.hold as PlateHold, held.part.bar);
    expect([foot!.pad, foot!.height]).toEqual([6.35, 12.7]);
    expect([usual!.pad, usual!.height]).toEqual([6, 16]);
    const extent = ({ region }: Foot) => {
      const { min, max } = regionBox(region)!;
      return Math.min(max.x - min.x, max.y - min.y);
    };
    expect([extent(foot!), extent(usual!)].map((mm) => Number(mm.toFixed(6)))).toEqual([25.4, 12]);
    expect(padsOf(hold)[0]!.radius).toBe(6.35);
    const back = planned(JSON.stringify({ ...inches, route: { setups: { 1: { grip: 0.09 } } } }));
    expect(back.route.setups[0]!.hold).toMatchObject({ kind: 'vice', grip: 0.09 * 25.4 });
  });

  test('the sheet says and draws the plate, and asks for no vice and no parallels', () => {
    const made = makeAll(crank(SCREWS));
    if (!made.ok) throw new Error('refused');
    const sheet = sheetHtml(made, made.proof, null);
    for (const words of [
      'Held down by M4 socket head screws at X 54.50 Y 44.90; X 4.50 Y 4.90',
      'may stand more than 4 mm above the top of the work',
      'Setup 1 from the end: on its plate',
    ]) {
      expect(sheet.includes(words), words).toBe(true);
    }
    expect(/in the vice|two parallels|N·m/.test(sheet)).toBe(false);
  });
});
