import { parseThread } from '../../sketch/part/threads.ts';
import type { Cutter } from './cutter.ts';
import type { MachineProfile } from './profile.ts';

const degrees = (d: number): number => (d * Math.PI) / 180;

const endmill = (number: number, diameter: number, fluteLength: number, flutes = 3): Cutter => ({
  name: `${diameter} mm endmill`,
  number,
  kind: 'endmill',
  diameter,
  flutes,
  fluteLength,
  material: 'high-speed steel',
  pointAngle: Math.PI,
  plunge: { straight: true, ramp: degrees(3) },
});

const drill = (number: number, diameter: number): Cutter => ({
  name: `${diameter.toFixed(1)} mm drill`,
  number,
  kind: 'drill',
  diameter,
  flutes: 2,
  fluteLength: 12 + 8 * diameter,
  material: 'high-speed steel',
  pointAngle: degrees(118),
  plunge: { straight: true, ramp: Math.PI / 2 },
});

const reamer = (number: number, diameter: number): Cutter => ({
  ...drill(number, diameter),
  name: `${diameter} mm reamer`,
  kind: 'reamer',
  flutes: 6,
  fluteLength: 8 * diameter,
  pointAngle: Math.PI,
});

/** A hand tap by its thread; its size comes from the standard. Throws for a thread that is not known. */
const tap = (number: number, thread: string): Cutter => {
  const read = parseThread(thread);
  if (!read.ok) throw new RangeError(read.message);
  const { designation, major } = read.thread;
  return {
    ...drill(number, major),
    name: `${designation} tap`,
    kind: 'tap',
    flutes: 3,
    fluteLength: 4 * major,
    pointAngle: Math.PI,
    designation,
  };
};

const THREADS = [
  'M2',
  'M2.5',
  'M3',
  'M4',
  'M5',
  'M6',
  'M8',
  '2 BA',
  '4 BA',
  '6 BA',
  '8 BA',
  '4-40 UNC',
  '5-40 UNC',
  '6-32 UNC',
  '8-32 UNC',
  '10-32 UNF',
  '1/4-20 UNC',
];

/** An invented small mill and its drawers: a place to start from, to be replaced by the owner's own. */
export const standardProfile: MachineProfile = {
  name: 'Small bench mill (example)',
  spindle: { least: 100, most: 5000, power: 500, steps: [] },
  feed: { most: 800, mostPlunge: 150, rapid: 1200 },
  travel: { x: 300, y: 180, z: 200 },
  vice: { jawWidth: 100, jawHeight: 25, opening: 80 },
  parallels: [3, 6].flatMap((thickness) =>
    [10, 12, 14, 16, 18, 20, 22, 23, 24, 28, 30].map((height) => ({ height, thickness })),
  ),
  cutters: [
    endmill(1, 2, 7),
    endmill(2, 3, 12),
    endmill(3, 4, 14),
    endmill(4, 5, 16),
    endmill(5, 6, 19),
    endmill(6, 8, 22),
    endmill(7, 10, 25),
    endmill(8, 12, 28),
    {
      ...drill(9, 6),
      name: '6 mm spot drill',
      kind: 'spot',
      fluteLength: 12,
      pointAngle: degrees(90),
    },
    ...[2, 3, 4, 5, 6, 8].map((d, i) => reamer(10 + i, d)),
    ...THREADS.map((thread, i) => tap(20 + i, thread)),
    ...Array.from({ length: 91 }, (_, i) => drill(100 + i, 1 + i / 10)),
  ],
  program: {
    unit: 'mm',
    decimals: 3,
    arcs: 'arcs',
    chord: 0.005,
    fullCircles: false,
    toolChange: 'M6',
    drilling: 'spelled-out',
    lineNumbers: false,
    coolant: 'none',
  },
};
