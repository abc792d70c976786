/** Sizes of the thread series and the drills that tables print for them. All from memory unless a source is named. */

/** ISO 261: nominal diameter and coarse pitch, mm. Value from memory. */
export const METRIC_COARSE: ReadonlyMap<number, number> = new Map([
  [1, 0.25],
  [1.1, 0.25],
  [1.2, 0.25],
  [1.4, 0.3],
  [1.6, 0.35],
  [1.8, 0.35],
  [2, 0.4],
  [2.2, 0.45],
  [2.5, 0.45],
  [3, 0.5],
  [3.5, 0.6],
  [4, 0.7],
  [4.5, 0.75],
  [5, 0.8],
  [6, 1],
  [7, 1],
  [8, 1.25],
  [9, 1.25],
  [10, 1.5],
  [11, 1.5],
  [12, 1.75],
  [14, 2],
  [16, 2],
  [18, 2.5],
  [20, 2.5],
  [22, 2.5],
  [24, 3],
]);

/** ISO 261: the pitches from which a finer one is chosen, mm. Value from memory. */
export const METRIC_PITCHES: readonly number[] = [0.2, 0.25, 0.35, 0.5, 0.75, 1, 1.25, 1.5, 2];

/** Unified coarse and fine (ASME B1.1): size as written, threads per inch. Value from memory. */
export const UNIFIED: Readonly<Record<'UNC' | 'UNF', ReadonlyMap<string, number>>> = {
  UNC: new Map([
    ['1', 64],
    ['2', 56],
    ['3', 48],
    ['4', 40],
    ['5', 40],
    ['6', 32],
    ['8', 32],
    ['10', 24],
    ['12', 24],
    ['1/4', 20],
    ['5/16', 18],
    ['3/8', 16],
    ['7/16', 14],
    ['1/2', 13],
  ]),
  UNF: new Map([
    ['0', 80],
    ['1', 72],
    ['2', 64],
    ['3', 56],
    ['4', 48],
    ['5', 44],
    ['6', 40],
    ['8', 36],
    ['10', 32],
    ['12', 28],
    ['1/4', 28],
    ['5/16', 24],
    ['3/8', 24],
    ['7/16', 20],
    ['1/2', 20],
  ]),
};

/** The model series of Whitworth form: threads per inch and the sizes made in it, inches. Common practice, no source. */
export const MODEL: ReadonlyMap<number, readonly string[]> = new Map([
  [40, ['1/8', '5/32', '3/16', '7/32', '1/4', '9/32', '5/16', '3/8', '7/16', '1/2']],
  [32, ['3/16', '7/32', '1/4', '9/32', '5/16', '3/8', '7/16', '1/2']],
]);

export interface PrintedDrill {
  /** As the table names it: a number, a letter, a fraction of an inch, or mm. */
  readonly drill: string;
  readonly source: string;
}

const ISO_2306 = 'ISO 2306, value from memory';
const STEAMERS = 'thread table of the International Brotherhood of Live Steamers';
const CHART = 'common drill charts, value from memory';

const table = (source: string, rows: Readonly<Record<string, string>>): [string, PrintedDrill][] =>
  Object.entries(rows).map(([designation, drill]) => [designation, { drill, source }]);

/** Tap drills as printed, by designation. */
export const PRINTED_DRILLS: ReadonlyMap<string, PrintedDrill> = new Map([
  ...table(ISO_2306, {
    'M2 × 0.4': '1.6 mm',
    'M2.5 × 0.45': '2.05 mm',
    'M3 × 0.5': '2.5 mm',
    'M4 × 0.7': '3.3 mm',
    'M5 × 0.8': '4.2 mm',
    'M6 × 1': '5 mm',
    'M8 × 1.25': '6.8 mm',
    'M10 × 1.5': '8.5 mm',
    'M12 × 1.75': '10.2 mm',
  }),
  ...table(STEAMERS, {
    '0 BA': '10',
    '1 BA': '17',
    '2 BA': '24',
    '3 BA': '29',
    '4 BA': '32',
    '5 BA': '37',
    '6 BA': '43',
    '7 BA': '46',
    '8 BA': '50',
    '9 BA': '53',
    '10 BA': '55',
    '12 BA': '60',
    '14 BA': '70',
    '5/32 × 40': '30',
    '3/16 × 40': '5/32',
    '7/32 × 40': '3/16',
    '1/4 × 40': '7/32',
    '5/16 × 32': 'J',
    '3/8 × 32': 'Q',
    '3/8 × 40': '11/32',
    '0-80 UNF': '56',
    '1-72 UNF': '53',
    '2-56 UNC': '49',
    '3-48 UNC': '47',
    '4-40 UNC': '44',
    '5-40 UNC': '39',
    '6-32 UNC': '36',
    '8-36 UNF': '29',
    '10-32 UNF': '21',
    '12-24 UNC': '16',
    '1/4-28 UNF': '3',
    '5/16-24 UNF': 'I',
    '1/4-20 UNC': '7',
    '5/16-18 UNC': 'F',
    '3/8-16 UNC': '5/16',
  }),
  ...table(CHART, {
    '1-64 UNC': '53',
    '2-64 UNF': '50',
    '3-56 UNF': '45',
    '4-48 UNF': '42',
    '5-44 UNF': '37',
    '6-40 UNF': '33',
    '8-32 UNC': '29',
    '10-24 UNC': '25',
    '12-28 UNF': '14',
    '3/8-24 UNF': 'Q',
    '7/16-14 UNC': 'U',
    '7/16-20 UNF': '25/64',
    '1/2-13 UNC': '27/64',
    '1/2-20 UNF': '29/64',
  }),
]);
