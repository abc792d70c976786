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

const tap = (number: number, designation: string, diameter: number): Cutter => ({
  ...drill(number, diameter),
  name: `${designation} tap`,
  kind: 'tap',
  flutes: 3,
  fluteLength: 4 * diameter,
  pointAngle: Math.PI,
  designation,
});

/** An invented small mill and its drawers: a place to start from, to be replaced by the owner's own. */
export const standardProfile: MachineProfile = {
  name: 'Small bench mill (example)',
  spindle: { least: 100, most: 5000, power: 500, steps: [] },
  feed: { most: 800, mostPlunge: 150, rapid: 1200 },
  travel: { x: 300, y: 180, z: 200 },
  vice: { jawWidth: 100, jawHeight: 25, opening: 80 },
  parallels: [14, 16, 18, 20, 22, 23, 24].map((height) => ({ height, thickness: 3 })),
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
    ...(
      [
        ['M2 × 0.4', 2],
        ['M2.5 × 0.45', 2.5],
        ['M3 × 0.5', 3],
        ['M4 × 0.7', 4],
        ['M5 × 0.8', 5],
        ['M6 × 1', 6],
        ['4 BA', 3.6],
        ['5-40 UNC', 3.175],
        ['8-32 UNC', 4.166],
        ['1/4-20 UNC', 6.35],
      ] as const
    ).map(([name, d], i) => tap(20 + i, name, d)),
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
