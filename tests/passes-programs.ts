import type { Part } from '../sketch/part/part.ts';
import type { Point3 } from '../sketch/shape/point.ts';
import { pointAlong, segmentLength } from '../sketch/shape/segment.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { Pass, Plan } from '../toolpath/passes/pass.ts';
import { planRoute } from '../toolpath/passes/plan.ts';
import type { Hold, JobStep, MillingTerms, Setup, ViceHold } from '../toolpath/route/route.ts';
import { motionsOf, type Track } from './passes-samples.ts';

/** Small parts with every word of their route stated, so that what is planned for them can be worked out by hand. */

/** A plate of brass, 6 thick, from its lower left corner, with nothing in it. */
export const plateOf = (name: string, length: number, width: number): Part => ({
  name,
  unit: 'mm',
  bar: { length, width, thickness: 6, material: 'brass', corner: { x: 0, y: 0 }, sawn: 0 },
  ends: [],
  arms: [],
  plates: [
    {
      name: 'body',
      corners: [
        { x: 0, y: 0 },
        { x: length, y: 0 },
        { x: length, y: width },
        { x: 0, y: width },
      ],
      cornerRadius: 0,
    },
  ],
  holes: [],
  slots: [],
  forks: [],
  lands: [],
  leastWall: 1,
});

export const PLATE = plateOf('Guide plate', 60, 30);

/** A link of two ends in a bar with room all round. */
export const LINK: Part = {
  ...PLATE,
  name: 'Draw link',
  bar: { length: 66, width: 32, thickness: 5, material: 'brass', corner: { x: -18, y: -15 }, sawn: 1.5 },
  ends: [
    { name: 'large', centre: { x: 0, y: 0 }, radius: 8 },
    { name: 'small', centre: { x: 32, y: 3 }, radius: 5 },
  ],
  arms: [{ name: 'arm', from: 'large', to: 'small' }],
  plates: [],
  holes: [
    {
      name: 'pivot',
      purpose: 'clearance',
      centre: { x: 0, y: 0 },
      diameter: 6,
      depth: null,
      from: 'front',
    },
    { name: 'pin', purpose: 'reamed', centre: { x: 32, y: 3 }, diameter: 4, depth: null, from: 'front' },
  ],
};

export const TERMS = {
  stepDown: 2,
  levels: { kind: 'equal' },
  stepover: 1.5,
  wallAllowance: 0.2,
  floorAllowance: 0,
  direction: 'climb',
  feed: 240,
} as const satisfies MillingTerms & { feed: number };

export const VICE: ViceHold = {
  kind: 'vice',
  jaws: { from: -200, to: 200 },
  grip: 0.5,
  parallels: null,
  gripped: 'the bar',
};

export const TAPE: Hold = { kind: 'plate', fastening: { kind: 'tape', shear: 0.3, peel: 0.1 } };

export const planned = (
  part: Part,
  steps: readonly JobStep[],
  over: Partial<Setup> = {},
  profile = standardProfile,
): Plan =>
  planRoute(
    part,
    {
      setups: [
        {
          number: 1,
          face: 'front',
          datum: 'left-near',
          workOffset: 'G54',
          hold: TAPE,
          steps,
          ...over,
        },
      ],
    },
    profile,
  );

const figure = (mm: number): string => (Math.abs(mm) < 0.005 ? 0 : mm).toFixed(2);

/**
 * A pass in figures: its kind, height and web; how many moves of each kind; how far it cuts and how far it goes by rapid,
 * mm; how long it cuts, s, at which feeds; the middle of its way at feed; the area that it goes round, mm²; all heights
 * together.
 */
const inFigures = (pass: Pass, start: Point3 | null): string => {
  const motions = motionsOf(pass.moves, start);
  const cut = motions.filter((m) => Number.isFinite(m.feed));
  const wayOf = (m: Track): number => Math.hypot(segmentLength(m.segment), m.to.z - m.from.z);
  const sum = (of: readonly Track[], what: (m: Track) => number): number =>
    of.reduce((all, m) => all + what(m), 0);
  const kinds = (['rapid', 'feed', 'arc'] as const).map(
    (kind) => `${pass.moves.filter((m) => m.kind === kind).length} ${kind}`,
  );
  const drilled = pass.moves.map((m) =>
    m.kind === 'drill'
      ? `drill X${figure(m.at.x)} Y${figure(m.at.y)} from ${figure(m.clear)} to ${figure(m.depth)} peck ${m.peck} dwell ${m.dwell} F${figure(m.feed)}`
      : m.kind === 'stop'
        ? m.message
        : '',
  );
  const length = sum(cut, wayOf);
  const middle = (axis: 'x' | 'y'): number =>
    sum(cut, (m) => (wayOf(m) * (m.from[axis] + 2 * pointAlong(m.segment, 0.3)[axis] + m.to[axis])) / 4);
  const feeds = cut.map((m) => m.feed);
  const words = [
    `${pass.kind} at ${figure(pass.z)}${pass.web === null ? '' : `, web ${figure(pass.web)}`}`,
    kinds.join(' '),
    ...drilled.filter(Boolean),
    `rapid ${figure(sum(motions, wayOf) - length)}`,
  ];
  if (cut.length > 0)
    words.push(
      `cut ${figure(length)} in ${figure(sum(cut, (m) => (60 * wayOf(m)) / m.feed))} s`,
      `F${figure(Math.min(...feeds))} to F${figure(Math.max(...feeds))}`,
      `about X${figure(middle('x') / length)} Y${figure(middle('y') / length)}`,
      `round ${figure(sum(cut, (m) => (m.from.x * m.to.y - m.to.x * m.from.y) / 2))}`,
    );
  return [...words, `heights ${figure(sum(motions, (m) => m.to.z))}`].join('; ');
};

/** All passes of a plan in figures, a line for each, and what was found. */
export const inLines = ({ setups, findings }: Plan): string => {
  const lines = setups.flatMap(({ steps }) =>
    steps.flatMap(({ step, passes }) => {
      let at: Point3 | null = null;
      return passes.map((pass) => {
        const text = `${step.name}: ${inFigures(pass, at)}`;
        at = motionsOf(pass.moves, at).at(-1)?.to ?? at;
        return text;
      });
    }),
  );
  return [...lines, ...findings.map((f) => `${f.code}: ${f.message}`), ''].join('\n');
};
