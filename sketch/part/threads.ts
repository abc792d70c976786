import { drillDiameter, nearestDrill } from './drill-sizes.ts';
import { quoted } from './names.ts';
import type { TappedHole } from './part.ts';
import { METRIC_COARSE, METRIC_PITCHES, MODEL, PRINTED_DRILLS, UNIFIED } from './thread-tables.ts';
import { MM_PER_INCH, plain } from './units.ts';

/** The profile of a thread: the angle between its flanks, and its basic depth on one side as a share of the pitch. */
export interface ThreadForm {
  readonly name: string;
  readonly angle: number;
  readonly depthPerPitch: number;
}

/** ISO 68-1 (and Unified, ASME B1.1): H = P·√3/2, basic depth H1 = 5/8 H = 0.54127 P. */
export const ISO_FORM: ThreadForm = {
  name: 'ISO 60°',
  angle: Math.PI / 3,
  depthPerPitch: (5 / 16) * Math.sqrt(3),
};
/** BS 93: 47.5°, basic depth 0.6 p. */
export const BA_FORM: ThreadForm = { name: 'BA 47.5°', angle: (47.5 * Math.PI) / 180, depthPerPitch: 0.6 };
/** BS 84: 55°, basic depth 0.640327 p (value from memory). */
export const WHITWORTH_FORM: ThreadForm = {
  name: 'Whitworth 55°',
  angle: (55 * Math.PI) / 180,
  depthPerPitch: 0.640327,
};

/** A thread by its standard. Lengths in mm. */
export interface Thread {
  /** As on a drawing, always written the same way: "M3 × 0.5", "4 BA", "8-32 UNC", "5/32 × 40". */
  readonly designation: string;
  readonly series: 'ISO metric coarse' | 'ISO metric fine' | 'BA' | 'UNC' | 'UNF' | 'model';
  readonly major: number;
  readonly pitch: number;
  readonly form: ThreadForm;
}

export type ThreadReading =
  | { readonly ok: true; readonly thread: Thread }
  | { readonly ok: false; readonly message: string };

/** Basic depth of thread on one side, mm. */
export const threadDepth = (t: Thread): number => t.form.depthPerPitch * t.pitch;
/** Basic minor diameter of the nut, mm: D1 of ISO 68-1. */
export const minorDiameter = (t: Thread): number => t.major - 2 * threadDepth(t);
/**
 * Basic pitch diameter, mm. For the 60° form 3/8 H lies on either side of the major (ISO 68-1: D2 = D − 0.64952 P);
 * the other two forms are rounded alike at crest and root, so it lies half way down.
 */
export const pitchDiameter = (t: Thread): number =>
  t.form === ISO_FORM ? t.major - (3 / 8) * Math.sqrt(3) * t.pitch : t.major - threadDepth(t);

/**
 * Read a thread designation. Capitals, spaces and the kind of cross do not matter; a pitch may be left out where the
 * coarse one is meant. The message of a refusal names what is near.
 */
export const parseThread = (text: string): ThreadReading => {
  const tidy = text
    .trim()
    .replace(/\s+/g, ' ')
    .replace(/["″”]/g, '')
    .replace(/[–—−]/g, '-')
    .replace(/(\d),(\d)/g, '$1.$2');
  for (const read of [metric, ba, unified, model]) {
    const reading = read(tidy);
    if (reading !== null) return reading;
  }
  return refuse(
    `${quoted(text)} is not a thread that is known here; write it like “M3”, “M8 × 1”, “4 BA”, “8-32 UNC” or “5/32 × 40”`,
  );
};

const refuse = (message: string): ThreadReading => ({ ok: false, message });
const accept = (thread: Thread): ThreadReading => ({ ok: true, thread });

const metric = (text: string): ThreadReading | null => {
  const m = /^M ?(\d+(?:\.\d+)?)(?: ?[x×*] ?(\d*\.?\d+))?(?: ?- ?[4-8][GH](?:[4-8][GH])?)?$/i.exec(text);
  if (m === null) return null;
  const major = Number(m[1]);
  const coarse = METRIC_COARSE.get(major);
  if (coarse === undefined) {
    const near = [...METRIC_COARSE.keys()]
      .sort((a, b) => Math.abs(a - major) - Math.abs(b - major))
      .slice(0, 2);
    return refuse(
      `M${m[1]} is not a size of ISO metric thread; near it are ${near.map((d) => `M${d}`).join(' and ')}`,
    );
  }
  const pitch = m[2] === undefined ? coarse : Number(m[2]);
  const fine = METRIC_PITCHES.filter((p) => p < coarse && p >= coarse / 4);
  if (pitch !== coarse && !fine.includes(pitch)) {
    return refuse(
      `M${major} has no standard pitch of ${m[2]}: the coarse one is ${coarse}` +
        (fine.length > 0 ? `, finer ones are ${fine.reverse().join(', ')}` : ''),
    );
  }
  return accept({
    designation: `M${major} × ${pitch}`,
    series: pitch === coarse ? 'ISO metric coarse' : 'ISO metric fine',
    major,
    pitch,
    form: ISO_FORM,
  });
};

/** BS 93: pitch 0.9^n mm rounded to 0.01, major diameter 6 p^1.2 rounded to two figures, for n from 0 to 16. */
const ba = (text: string): ThreadReading | null => {
  const m = /^(?:no\.? ?|#)?(\d{1,2}) ?-? ?B\.?A\.?$/i.exec(text) ?? /^B\.?A\.? ?(\d{1,2})$/i.exec(text);
  if (m === null) return null;
  const n = Number(m[1]);
  if (n > 16) return refuse(`${n} BA is outside the sizes 0 BA to 16 BA`);
  const exact = 0.9 ** n;
  return accept({
    designation: `${n} BA`,
    series: 'BA',
    major: Number((6 * exact ** 1.2).toPrecision(2)),
    pitch: Math.round(exact * 100) / 100,
    form: BA_FORM,
  });
};

/** Diameter in inches of a size written as a number (0.060 + 0.013 n) or as a fraction. */
const inches = (size: string): number => {
  const [over, under] = size.split('/').map(Number);
  return under === undefined ? 0.06 + 0.013 * (over ?? 0) : (over ?? 0) / under;
};

const unified = (text: string): ThreadReading | null => {
  const m =
    /^(?:no\.? ?|# ?)?(\d{1,2}(?:\/\d{1,2})?) ?- ?(\d{1,2}) ?(UN[CF])?(?: ?- ?[123][AB]?)?$/i.exec(text) ??
    /^(?:no\.? ?|# ?)?(\d{1,2}(?:\/\d{1,2})?)() ?(UN[CF])(?: ?- ?[123][AB]?)?$/i.exec(text);
  if (m === null) return null;
  const size = String(m[1]);
  const threads = m[2] ? Number(m[2]) : null;
  const wanted = m[3]?.toUpperCase();
  for (const series of ['UNC', 'UNF'] as const) {
    const made = UNIFIED[series].get(size);
    if (made === undefined || (threads !== null && made !== threads)) continue;
    if (wanted !== undefined && wanted !== series) {
      if (threads === null) continue;
      return refuse(`${size}-${threads} is ${series}, not ${wanted}`);
    }
    return accept({
      designation: `${size}-${made} ${series}`,
      series,
      major: inches(size) * MM_PER_INCH,
      pitch: MM_PER_INCH / made,
      form: ISO_FORM,
    });
  }
  const made = (['UNC', 'UNF'] as const).flatMap((s) => {
    const count = UNIFIED[s].get(size);
    return count === undefined ? [] : [`${size}-${count} ${s}`];
  });
  const sizes = threads === null ? undefined : MODEL.get(threads);
  if (sizes?.includes(size)) made.push(`the model series ${size} × ${threads}`);
  return refuse(
    `${quoted(text)} is not a Unified thread` +
      (made.length > 0 ? `; of that size there are ${made.join(' and ')}` : ''),
  );
};

const model = (text: string): ThreadReading | null => {
  const m = /^(\d{1,2}\/\d{1,2}) ?[x×*] ?(\d{1,2})(?: ?(?:tpi|ME|MME))?$/i.exec(text);
  if (m === null) return null;
  const size = String(m[1]);
  const threads = Number(m[2]);
  const sizes = MODEL.get(threads);
  if (sizes === undefined) return refuse(`the model series has 40 or 32 threads per inch, not ${threads}`);
  if (!sizes.includes(size)) {
    return refuse(
      `the model series of ${threads} threads per inch has no ${size}; it has ${sizes.join(', ')}`,
    );
  }
  return accept({
    designation: `${size} × ${threads}`,
    series: 'model',
    major: inches(size) * MM_PER_INCH,
    pitch: MM_PER_INCH / threads,
    form: WHITWORTH_FORM,
  });
};

/**
 * Share of the basic thread depth that is wanted when nothing is said. At 0.85 the drill of a 0.1 mm set stays within
 * the nut's minor diameter of ISO 965 class 6H for the coarse threads M2 to M12, and lies by the drills that BA tables
 * print (about 0.82); the rule D − P, which ISO 2306 follows, leaves 0.92 and makes a small hand tap turn hard.
 */
export const USUAL_ENGAGEMENT = 0.85;

/** A tap drill, mm: what the thread asks for, what a 0.1 mm set has, and what a table prints. */
export interface TapDrill {
  readonly computed: number;
  readonly chosen: number;
  /** Share of the basic thread depth that the chosen drill leaves. */
  readonly engagementGiven: number;
  readonly tableValue?: {
    readonly diameter: number;
    /** As the table names it, e.g. "30", "J", "2.5 mm". */
    readonly drill: string;
    readonly source: string;
    readonly engagement: number;
  };
}

/** Share of the basic thread depth left by a drill of this diameter (mm). Above 1 the tap jams; 0 leaves no thread. */
export const engagementOf = (t: Thread, drill: number): number => (t.major - drill) / (2 * threadDepth(t));

/** Tap drill from the thread's geometry: major − 2 · engagement · basic depth, then the nearest drill of a 0.1 mm set. */
export const tapDrillFor = (t: Thread, engagement = USUAL_ENGAGEMENT): TapDrill => {
  const computed = t.major - 2 * engagement * threadDepth(t);
  const chosen = nearestDrill(computed);
  const printed = PRINTED_DRILLS.get(t.designation);
  const diameter = printed === undefined ? null : drillDiameter(printed.drill);
  return {
    computed,
    chosen,
    engagementGiven: engagementOf(t, chosen),
    ...(printed === undefined || diameter === null
      ? {}
      : { tableValue: { ...printed, diameter, engagement: engagementOf(t, diameter) } }),
  };
};

/** The same by designation; null when there is no such thread. */
export const tapDrill = (designation: string, engagement = USUAL_ENGAGEMENT): TapDrill | null => {
  const reading = parseThread(designation);
  return reading.ok ? tapDrillFor(reading.thread, engagement) : null;
};

/** One line for a sheet: the drill, what it leaves, and the table's beside it. */
export const tapDrillText = (d: TapDrill): string =>
  `${plain(d.chosen, 2)} mm leaves ${Math.round(d.engagementGiven * 100)} % of the thread` +
  (d.tableValue === undefined
    ? ''
    : `; table: ${/mm$/.test(d.tableValue.drill) ? '' : `${d.tableValue.drill} = `}${plain(d.tableValue.diameter, 2)} mm`);

/** The same line for a tapped hole as it is drilled; empty for a thread nobody knows. */
export const tappedHoleText = (hole: Pick<TappedHole, 'designation' | 'diameter' | 'engagement'>): string => {
  const known = tapDrill(hole.designation);
  if (known === null) return '';
  return tapDrillText({ ...known, chosen: hole.diameter, engagementGiven: hole.engagement });
};
