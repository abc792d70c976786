import * as v from 'valibot';
import { jsonFault } from '../../sketch/part/json.ts';
import type { Finding } from '../../sketch/part/part.ts';
import { parseThread } from '../../sketch/part/threads.ts';
import { degrees, mmPer, radians } from '../../sketch/part/units.ts';
import type { Cutter } from './cutter.ts';
import { standardProfile } from './default-profile.ts';
import type { HandWheels, MachineProfile, ProgramForm } from './profile.ts';
import {
  type CutterEntry,
  type FormChanges,
  faultWords,
  PROFILE_FORMAT,
  PROFILE_VERSION,
  type ProfileDocument,
  ProfileSchema,
} from './profile-schema.ts';
import { readScrew, type Screw } from './screw.ts';

/** What came of reading a machine file. */
export type ProfileReading =
  | { readonly ok: true; readonly profile: MachineProfile; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

/** Read a machine file's text. Never throws; a file that cannot be used gives at least one finding of severity error. */
export const readProfile = (text: string): ProfileReading => {
  const plain = text.replace(/^\ufeff/, '');
  const fault = jsonFault(plain);
  if (fault !== null) {
    return refused('machine-not-json', `Line ${fault.line}, column ${fault.column}: ${fault.message}.`);
  }
  const value: unknown = JSON.parse(plain);
  if ((value as { format?: unknown } | null)?.format !== PROFILE_FORMAT) {
    return refused('machine-format', `This is no machine file: it should say "format": "${PROFILE_FORMAT}".`);
  }
  const read = v.safeParse(ProfileSchema, value);
  if (!read.success) {
    const findings = read.issues.map((issue) =>
      error('machine-value', `${placeOf(issue, value)}${faultWords(issue)}.`),
    );
    return { ok: false, findings };
  }
  return resolve(read.output);
};

const error = (code: string, message: string): Finding => ({ code, message, severity: 'error' });
const refused = (code: string, message: string): ProfileReading => ({
  ok: false,
  findings: [error(code, message)],
});

/** The dotted way to a fault, with a cutter called by its name. */
const placeOf = (issue: v.BaseIssue<unknown>, root: unknown): string => {
  const path = v.getDotPath(issue as v.InferIssue<typeof ProfileSchema>) ?? 'The file';
  const index = /^cutters\.(\d+)/.exec(path)?.[1];
  const entry = (root as { cutters?: readonly { name?: unknown }[] }).cutters?.[Number(index)];
  return typeof entry?.name === 'string' ? `${path} (${entry.name.slice(0, 80)})` : path;
};

const resolve = (document: ProfileDocument): ProfileReading => {
  const findings: Finding[] = [];
  const spindle = document.spindle
    ? { ...document.spindle, steps: [...(document.spindle.steps ?? [])].sort((a, b) => a - b) }
    : standardProfile.spindle;
  if (spindle.most < spindle.least) {
    findings.push(
      error(
        'machine-spindle',
        `The spindle's fastest, ${spindle.most} /min, is slower than its slowest, ${spindle.least} /min.`,
      ),
    );
  }
  const outside = spindle.steps.filter((s) => s < spindle.least || s > spindle.most);
  if (outside.length > 0) {
    findings.push(
      error(
        'machine-spindle',
        `The spindle's step ${outside[0]} /min lies outside ${spindle.least} to ${spindle.most} /min.`,
      ),
    );
  }
  const hand = resolveHand(document.hand, findings);
  const cutters = document.cutters?.map((entry) => resolveCutter(entry, findings));
  if (cutters) findings.push(...repeated(cutters));
  if (findings.some((f) => f.severity === 'error')) return { ok: false, findings };
  const left = (['spindle', 'feed', 'travel', 'vice', 'parallels', 'cutters'] as const).filter(
    (section) => document[section] === undefined,
  );
  const notes: Finding[] =
    left.length === 0
      ? findings
      : [
          ...findings,
          {
            code: 'machine-section-assumed',
            severity: 'note',
            message: `The machine file says nothing of ${left.join(', ')}: taken from the example machine.`,
          },
        ];
  const profile: MachineProfile = {
    name: document.name,
    spindle,
    feed: document.feed ?? standardProfile.feed,
    travel: document.travel ?? standardProfile.travel,
    vice: document.vice ?? standardProfile.vice,
    parallels: document.parallels ?? standardProfile.parallels,
    cutters: cutters ?? standardProfile.cutters,
    program: withForm(standardProfile.program, document.program ?? {}),
    ...(hand === null ? {} : { hand }),
    ...(document.materials === undefined ? {} : { materials: document.materials }),
  };
  return { ok: true, profile, findings: notes };
};

/** A program form with some of its settings changed. */
export const withForm = (form: ProgramForm, changes: FormChanges): ProgramForm => ({
  ...form,
  ...Object.fromEntries(Object.entries(changes).filter(([, value]) => value !== undefined)),
});

const AXES = ['x', 'y', 'z'] as const;

/** The handwheels, each looked at before anything is reckoned with it; faults are named by their axis. */
const resolveHand = (hand: ProfileDocument['hand'], findings: Finding[]): HandWheels | null => {
  if (hand === undefined) return null;
  const read = AXES.map((axis): readonly [(typeof AXES)[number], Screw | null] => {
    const reading = readScrew({ unit: hand.unit, ...hand[axis] });
    for (const finding of reading.findings) {
      findings.push({ ...finding, message: `${axis.toUpperCase()}: ${finding.message}` });
    }
    return [axis, reading.ok ? reading.screw : null];
  });
  const [x, y, z] = read.map(([, screw]) => screw);
  return x && y && z ? { unit: hand.unit, readout: hand.readout ?? false, x, y, z } : null;
};

/** Handwheels as they stand in a file: lengths in the screws' unit. */
const handEntry = (hand: HandWheels): object => {
  const { unit } = hand;
  const wheel = ({ pitch, divisions, direction, backlash }: Screw): object => ({
    pitch: tidy(pitch / mmPer(unit)),
    divisions,
    direction,
    backlash: tidy(backlash / mmPer(unit)),
  });
  return { unit, readout: hand.readout, x: wheel(hand.x), y: wheel(hand.y), z: wheel(hand.z) };
};

/** Common point angles, degrees: 118 for drills and 90 for spots; the rest end flat. */
const POINT_ANGLE: Readonly<Record<Cutter['kind'], number>> = {
  endmill: 180,
  drill: 118,
  reamer: 180,
  spot: 90,
  tap: 180,
};
const FLUTES: Readonly<Record<Cutter['kind'], number>> = {
  endmill: 3,
  drill: 2,
  reamer: 6,
  spot: 2,
  tap: 3,
};
/** Steepest ramp of an endmill of which nothing else is said, degrees. Common practice, no source. */
const RAMP = 3;

const resolveCutter = (entry: CutterEntry, findings: Finding[]): Cutter => {
  const thread = entry.thread === undefined ? null : parseThread(entry.thread);
  if (thread && !thread.ok) findings.push(error('machine-thread', `${entry.name}: ${thread.message}.`));
  if (entry.kind === 'tap' && thread === null) {
    findings.push(error('machine-thread', `${entry.name}: a tap needs its "thread", like "M3" or "4 BA".`));
  }
  const known = thread?.ok ? thread.thread : null;
  if (entry.diameter === undefined && known === null) {
    findings.push(error('machine-diameter', `${entry.name}: "diameter" is missing.`));
  }
  return {
    name: entry.name,
    number: entry.number,
    kind: entry.kind,
    diameter: entry.diameter ?? known?.major ?? 1,
    flutes: entry.flutes ?? FLUTES[entry.kind],
    fluteLength: entry.fluteLength,
    material: entry.material ?? 'high-speed steel',
    pointAngle: radians(entry.pointAngle ?? POINT_ANGLE[entry.kind]),
    plunge: {
      straight: entry.centreCutting ?? true,
      ramp: radians(entry.ramp ?? (entry.kind === 'endmill' ? RAMP : 90)),
    },
    ...(known ? { designation: known.designation } : {}),
  };
};

const repeated = (cutters: readonly Cutter[]): readonly Finding[] =>
  (['name', 'number'] as const).flatMap((key) => {
    const seen = new Set<string | number>();
    return cutters.flatMap((c) => {
      if (!seen.has(c[key])) {
        seen.add(c[key]);
        return [];
      }
      return [error('machine-cutter-twice', `Two cutters have the ${key} ${c[key]}; each needs its own.`)];
    });
  });

/** A machine file's text, with every section written out and one line for each cutter. */
export const writeProfile = (profile: MachineProfile): string => {
  const lines = (items: readonly unknown[]): string =>
    items.length === 0 ? '[]' : `[\n${items.map((item) => `    ${flat(item)}`).join(',\n')}\n  ]`;
  const cutters = profile.cutters.map((c) => ({
    name: c.name,
    number: c.number,
    kind: c.kind,
    diameter: c.diameter,
    flutes: c.flutes,
    fluteLength: c.fluteLength,
    material: c.material,
    pointAngle: tidy(degrees(c.pointAngle)),
    ...(c.kind === 'endmill' ? { centreCutting: c.plunge.straight, ramp: tidy(degrees(c.plunge.ramp)) } : {}),
    ...(c.designation === undefined ? {} : { thread: c.designation }),
  }));
  const sections = [
    `"format": ${flat(PROFILE_FORMAT)}`,
    `"version": ${PROFILE_VERSION}`,
    `"name": ${flat(profile.name)}`,
    ...(['spindle', 'feed', 'travel', 'vice'] as const).map((key) => `"${key}": ${flat(profile[key])}`),
    `"parallels": ${lines(profile.parallels)}`,
    ...(profile.hand === undefined ? [] : [`"hand": ${flat(handEntry(profile.hand))}`]),
    ...materialLines(profile.materials),
    `"program": ${flat(profile.program)}`,
    `"cutters": ${lines(cutters)}`,
  ];
  return `{\n  ${sections.join(',\n  ')}\n}\n`;
};

/** One line to a material, and none where nothing is said of it. */
const materialLines = (materials: MachineProfile['materials']): readonly string[] => {
  const said = Object.entries(materials ?? {}).filter(([, figures]) => Object.keys(figures ?? {}).length > 0);
  if (said.length === 0) return [];
  const lines = said.map(([material, figures]) => `    ${flat(material)}: ${flat(figures)}`);
  return [`"materials": {\n${lines.join(',\n')}\n  }`];
};

const tidy = (value: number): number => Number(value.toFixed(6));
/** A value on one line, with a space after every comma and inside braces. */
const flat = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(flat).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const pairs = Object.entries(value).map(([key, item]) => `${JSON.stringify(key)}: ${flat(item)}`);
  return `{ ${pairs.join(', ')} }`;
};
