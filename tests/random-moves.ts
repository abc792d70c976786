import fc from 'fast-check';
import type { Part } from '../sketch/part/part.ts';
import type { Point3 } from '../sketch/shape/point.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import type { MachineProfile, ProgramForm } from '../toolpath/machine/profile.ts';
import type { Move, PassKind, PlannedSetup, PlannedStep } from '../toolpath/passes/pass.ts';

/** Random setups for the writer, with no regard to sense: any move may follow any other. */

export const CLEAR = 10;

export const PART: Part = {
  name: 'Rocker',
  unit: 'mm',
  bar: {
    length: 80,
    width: 20,
    thickness: 8,
    material: 'brass',
    corner: { x: 0, y: 0 },
    sawn: 0,
  },
  ends: [],
  arms: [],
  plates: [],
  holes: [],
  slots: [],
  forks: [],
  lands: [],
  leastWall: 1,
};

export const cutter = (number: number, kind: Cutter['kind'] = 'endmill'): Cutter => ({
  name: `cutter ${number}`,
  number,
  kind,
  diameter: 5,
  flutes: 3,
  fluteLength: 12,
  material: 'carbide',
  pointAngle: Math.PI,
  plunge: { straight: true, ramp: 0.1 },
});

export const FORM: ProgramForm = {
  unit: 'mm',
  decimals: 3,
  arcs: 'arcs',
  chord: 0.002,
  fullCircles: true,
  toolChange: 'M6',
  drilling: 'canned',
  lineNumbers: false,
  coolant: 'none',
};

export const profileOf = (form: Partial<ProgramForm> = {}): MachineProfile => ({
  name: 'bench mill',
  spindle: { least: 100, most: 5000, power: 500, steps: [] },
  feed: { most: 1000, mostPlunge: 300, rapid: 2000 },
  travel: { x: 300, y: 150, z: 200 },
  vice: { jawWidth: 80, jawHeight: 30, opening: 80 },
  parallels: [],
  cutters: [],
  program: { ...FORM, ...form },
});

export const forms: fc.Arbitrary<ProgramForm> = fc.record({
  unit: fc.constantFrom('mm', 'inch'),
  decimals: fc.constantFrom(2, 3, 4, 5),
  arcs: fc.constantFrom('arcs', 'lines'),
  chord: fc.constantFrom(0.002, 0.02),
  fullCircles: fc.boolean(),
  toolChange: fc.constantFrom('M6', 'stop-and-prompt'),
  drilling: fc.constantFrom('canned', 'spelled-out'),
  lineNumbers: fc.boolean(),
  coolant: fc.constantFrom('none', 'flood'),
});

const place = fc.double({ min: -150, max: 150, noNaN: true });
const depth = fc.double({ min: -20, max: CLEAR, noNaN: true });
const feeds = fc.double({ min: 5, max: 900, noNaN: true });

/** A move that knows where it starts only when the list is put together. */
type Draft = (at: Point3) => Move;

const straight = (kind: 'rapid' | 'feed'): fc.Arbitrary<Draft> =>
  fc.tuple(place, place, depth, feeds, fc.nat(6)).map(([x, y, z, feed, keep]) => (at: Point3): Move => {
    // Often one or two of the axes stay as they are, as in real programs.
    const to = { x: keep & 1 ? at.x : x, y: keep & 2 ? at.y : y, z: keep & 4 ? at.z : z };
    return kind === 'rapid' ? { kind, to } : { kind, to, feed };
  });

const arc: fc.Arbitrary<Draft> = fc
  .tuple(
    fc.oneof(
      fc.double({ min: 0.01, max: 60, noNaN: true }),
      fc.double({ min: 0.001, max: 2000, noNaN: true }),
    ),
    fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
    fc.oneof(
      fc.constant(2 * Math.PI),
      fc.double({ min: 0.001, max: 6.28, noNaN: true }),
      fc.constantFrom(Math.PI / 2, Math.PI, 1e-4, 6.2831),
    ),
    fc.boolean(),
    fc.boolean(),
    depth,
    feeds,
  )
  .map(([radius, direction, sweep, clockwise, helix, z, feed]) => (at: Point3): Move => {
    const centre = { x: at.x + radius * Math.cos(direction), y: at.y + radius * Math.sin(direction) };
    const end = direction + Math.PI + (clockwise ? -sweep : sweep);
    const whole = sweep === 2 * Math.PI;
    const to = {
      x: whole ? at.x : centre.x + radius * Math.cos(end),
      y: whole ? at.y : centre.y + radius * Math.sin(end),
      z: helix ? z : at.z,
    };
    return { kind: 'arc', to, centre, clockwise, feed };
  });

const drill: fc.Arbitrary<Draft> = fc
  .tuple(
    fc.constantFrom(-30, 0, 12.5, 40),
    fc.constantFrom(-8, 0, 7),
    fc.constantFrom(1, CLEAR),
    fc.constantFrom(-3, -9.5),
    fc.constantFrom(0, 1, 2.5),
    fc.constantFrom(0, 0.3),
  )
  .map(
    ([x, y, clear, down, peck, dwell]) =>
      (): Move => ({ kind: 'drill', at: { x, y }, clear, depth: down, peck, dwell, feed: 80 }),
  );

/** Holes as a plan writes them: up, across, down to just above, drill. */
const holes: fc.Arbitrary<Draft[]> = fc
  .array(fc.tuple(drill, fc.boolean()), { minLength: 1, maxLength: 5 })
  .map((list) =>
    list.flatMap(([make]) => {
      const hole = make({ x: 0, y: 0, z: 0 }) as Extract<Move, { kind: 'drill' }>;
      const to =
        (z: number): Draft =>
        () => ({ kind: 'rapid', to: { ...hole.at, z } });
      const lift: Draft = (at) => ({ kind: 'rapid', to: { ...at, z: CLEAR } });
      return [lift, to(CLEAR), to(hole.clear), () => hole];
    }),
  );

const drafts: fc.Arbitrary<Draft[]> = fc
  .array(
    fc.oneof(
      { weight: 3, arbitrary: straight('feed').map((d) => [d]) },
      { weight: 2, arbitrary: straight('rapid').map((d) => [d]) },
      { weight: 3, arbitrary: arc.map((d) => [d]) },
      { weight: 1, arbitrary: drill.map((d) => [d]) },
      { weight: 1, arbitrary: holes },
      { weight: 1, arbitrary: fc.constant<Draft[]>([() => ({ kind: 'stop', message: 'measure' })]) },
    ),
    { maxLength: 10 },
  )
  .map((lists) => lists.flat());

export const endOf = (move: Move, at: Point3): Point3 => {
  if (move.kind === 'stop') return at;
  return move.kind === 'drill' ? { ...move.at, z: move.clear } : move.to;
};

const MILL = {
  name: '',
  cutter: '',
  stepDown: 1,
  levels: { kind: 'equal' },
  stepover: 2,
  direction: 'climb',
} as const;

const steps: fc.Arbitrary<PlannedStep[]> = fc
  .array(
    fc.record({
      first: fc.tuple(place, place, depth),
      passes: fc.array(fc.tuple(drafts, fc.constantFrom<PassKind>('rough', 'finish', 'release')), {
        minLength: 1,
        maxLength: 3,
      }),
      tool: fc.integer({ min: 1, max: 3 }),
      kind: fc.constantFrom<Cutter['kind']>('endmill', 'drill', 'reamer'),
      speed: fc.integer({ min: 100, max: 5000 }),
    }),
    { minLength: 1, maxLength: 4 },
  )
  .map((list) =>
    list.map(({ first, passes, tool, kind, speed }, index): PlannedStep => {
      let at: Point3 = { x: first[0], y: first[1], z: first[2] };
      const start: Move = { kind: 'rapid', to: at };
      return {
        step: {
          ...MILL,
          kind: 'fork',
          name: `step ${index}`,
          fork: '',
          engagement: null,
          web: 0,
          wallAllowance: 0,
          floorAllowance: 0,
        },
        cutter: { ...cutter(tool, kind), name: `${kind} ${tool}` },
        speed,
        feed: 100,
        plungeFeed: 50,
        bridges: [],
        passes: passes.map(([list, kind], k) => {
          const moves = list.map((draft) => {
            const move = draft(at);
            at = endOf(move, at);
            return move;
          });
          return { kind, z: -1, web: null, moves: k === 0 ? [start, ...moves] : moves };
        }),
      };
    }),
  );

export const setupOf = (list: readonly PlannedStep[]): PlannedSetup => ({
  setup: {
    number: 1,
    face: 'front',
    datum: 'left-near',
    workOffset: 'G54',
    hold: { kind: 'vice', jaws: { from: 0, to: 80 }, grip: 3, parallels: null, gripped: 'the bar' },
    steps: list.map((s) => s.step),
  },
  frame: { face: 'front', zero: { x: 0, y: 0, z: 8 } },
  stock: { min: { x: 0, y: 0, z: -8 }, max: { x: 80, y: 20, z: 0 } },
  standing: [],
  clearHeight: CLEAR,
  steps: list,
});

export const setups: fc.Arbitrary<PlannedSetup> = steps.map(setupOf);

/** A setup of one job step with one pass. */
export const oneStep = (moves: readonly Move[], kind: Cutter['kind'] = 'endmill'): PlannedSetup =>
  setupOf([
    {
      step: {
        ...MILL,
        kind: 'fork',
        engagement: null,
        name: 'fork',
        fork: '',
        web: 0,
        wallAllowance: 0,
        floorAllowance: 0,
      },
      cutter: cutter(1, kind),
      speed: 800,
      feed: 100,
      plungeFeed: 50,
      bridges: [],
      passes: [{ kind: 'rough', z: -1, web: 0.8, moves }],
    },
  ]);
