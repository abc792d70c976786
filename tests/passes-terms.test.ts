import { describe, expect, it } from 'vitest';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { MachineProfile } from '../toolpath/machine/profile.ts';
import { holdTermFindings, termFindings } from '../toolpath/passes/term-checks.ts';
import type { JobStep, Setup } from '../toolpath/route/route.ts';
import { PLATE, TAPE, TERMS, VICE } from './passes-programs.ts';
import { endmill } from './passes-samples.ts';

// Terms that no job step can be cut with: each limit from both sides, with every word that is said of it.

const SIX = endmill(6);
const setup = (hold: Setup['hold'] = TAPE): Setup => ({
  ...{ number: 3, face: 'front', datum: 'left-near', workOffset: 'G54', hold, steps: [] },
});
const { feed: _, ...terms } = TERMS;
const SLOT: JobStep = {
  ...terms,
  kind: 'slot',
  name: 'slot',
  slot: 's',
  cutter: SIX.name,
  web: 1,
  engagement: null,
};
const DRILL: JobStep = { kind: 'drill', name: 'pin', cutter: '3.8 mm drill', holes: ['pin'], peck: 2 };
const RELEASE: JobStep = {
  kind: 'release',
  name: 'free',
  of: 'slot',
  cutter: SIX.name,
  stepDown: 0.4,
  feedShare: 0.5,
};

const profile: MachineProfile = {
  ...standardProfile,
  spindle: { ...standardProfile.spindle, least: 200, most: 5000 },
  feed: { most: 1200, mostPlunge: 300, rapid: 1500 },
};
const kinds = (kind: 'endmill' | 'drill' | 'reamer' | 'spot' | 'tap') => ({
  ...SIX,
  kind,
  name: `my ${kind}`,
});
const found = (step: JobStep, change: object = {}, cutter = SIX, unit: 'mm' | 'inch' = 'mm') =>
  termFindings({ ...PLATE, unit }, setup(), { ...step, ...change } as JobStep, cutter, profile);
const said = (...of: Parameters<typeof found>): string[] =>
  found(...of).map((f) => `${f.code}: ${f.message}`);

describe('of a job step it is said', () => {
  it('with its name, its setup, and that it cannot be', () => {
    expect(found(SLOT, { stepDown: 0 })).toEqual([
      {
        code: 'pass-too-shallow',
        severity: 'error',
        message: 'slot: passes of 0 mm only rub; take 0.02 mm or more.',
        feature: 'slot',
        setup: 3,
      },
    ]);
    expect(found(SLOT)).toEqual([]);
    expect(found(RELEASE)).toEqual([]);
    expect(found(DRILL, {}, kinds('drill'))).toEqual([]);
  });

  it('that a cutter is of the wrong kind, and which kind it wants', () => {
    const hole = (kind: string): JobStep => ({ ...DRILL, kind }) as JobStep;
    for (const kind of ['square', 'outline', 'fork', 'slot', 'pocket', 'thin'])
      expect(said({ ...SLOT, kind } as JobStep, {}, kinds('drill'))).toEqual([
        'cutter-of-wrong-kind: slot: "my drill" is a drill; this wants an endmill.',
      ]);
    expect(said(RELEASE, {}, kinds('reamer'))).toEqual([
      'cutter-of-wrong-kind: free: "my reamer" is a reamer; this wants an endmill.',
    ]);
    const wrong = { spot: 'reamer', drill: 'spot', ream: 'drill', tap: 'drill' } as const;
    for (const [kind, other] of Object.entries(wrong)) {
      const wanted = { spot: 'spot', drill: 'drill', ream: 'reamer', tap: 'tap' }[kind]!;
      expect(said(hole(kind), {}, kinds(other))).toEqual([
        `cutter-of-wrong-kind: pin: "my ${other}" is a ${other}; this wants a ${wanted}.`,
      ]);
      expect(said(hole(kind), {}, kinds(wanted as 'spot'))).toEqual([]);
    }
    expect(said(DRILL, {}, kinds('endmill'))).toEqual([
      'cutter-of-wrong-kind: pin: "my endmill" is an endmill; this wants a drill.',
    ]);
    // A drill spots as well.
    expect(said(hole('spot'), {}, kinds('drill'))).toEqual([]);
  });

  it('that passes and laps only rub under two hundredths, a release’s too, and are no number', () => {
    expect(said(SLOT, { stepDown: 0.019 })).toEqual([
      'pass-too-shallow: slot: passes of 0.019 mm only rub; take 0.02 mm or more.',
    ]);
    expect(said(SLOT, { stepDown: 0.02 })).toEqual([]);
    expect(said(RELEASE, { stepDown: 0.019 })).toEqual([
      'pass-too-shallow: free: passes of 0.019 mm only rub; take 0.02 mm or more.',
    ]);
    expect(said(SLOT, { stepDown: Number.NaN })).toHaveLength(1);
    expect(said(SLOT, { stepover: 0.019 })).toEqual([
      'laps-too-near: slot: laps 0.019 mm apart only rub; take 0.02 mm or more.',
    ]);
    expect(said(SLOT, { stepover: 0.02 })).toEqual([]);
    expect(said(SLOT, { stepover: Number.NaN })).toHaveLength(1);
  });

  it('that laps lie too far apart, or too much is left for the finishing ones', () => {
    expect(said(SLOT, { stepover: 6 })).toEqual([]);
    expect(said(SLOT, { stepover: 6.001 })).toEqual([
      'laps-too-far: slot: laps 6.001 mm apart leave ridges behind a cutter of 6 mm.',
    ]);
    expect(said(SLOT, { wallAllowance: 3 })).toEqual([]);
    expect(said(SLOT, { wallAllowance: 3.001 })).toEqual([
      'allowance-too-large: slot: 3.001 mm left for the finishing lap is more than half its cutter; take 1.5 mm or less.',
    ]);
    expect(said(SLOT, { floorAllowance: 2 })).toEqual([]);
    expect(said(SLOT, { floorAllowance: 2.001 })).toEqual([
      'allowance-too-large: slot: 2.001 mm left for the finishing pass is more than a pass of 2 mm.',
    ]);
  });

  it('that a web is as thick as the bar, and that a drill’s pecks are too short', () => {
    expect(said(SLOT, { web: 5.999 })).toEqual([]);
    expect(said(SLOT, { web: 6 })).toEqual([
      'web-too-thick: slot: a web of 6 mm is as thick as the bar, 6 mm.',
    ]);
    const drill = kinds('drill');
    expect(said(DRILL, { peck: 0.1 }, drill)).toEqual([]);
    expect(said(DRILL, { peck: 0.099 }, drill)).toEqual([
      'peck-too-short: pin: pecks of 0.099 mm only wear the drill; take 0.1 mm or more.',
    ]);
    expect(said(DRILL, { peck: Number.NaN }, drill)).toHaveLength(1);
    // What is spotted or reamed has none.
    expect(said({ ...DRILL, kind: 'spot' } as JobStep, { peck: 0 }, kinds('spot'))).toEqual([]);
  });

  it('that a speed is not the spindle’s', () => {
    const words = (speed: string) =>
      `speed-beyond-spindle: slot: ${speed} turns/min; the spindle gives 200 to 5000.`;
    expect(said(SLOT, { speed: 200 })).toEqual([]);
    expect(said(SLOT, { speed: 5000 })).toEqual([]);
    expect(said(SLOT, { speed: 199.99 })).toEqual([words('199.99')]);
    expect(said(SLOT, { speed: 5000.5 })).toEqual([words('5000.5')]);
    expect(said(SLOT, { speed: Number.NaN })).toEqual([words('NaN')]);
  });

  it('that a feed is not the machine’s: its fastest for what mills, its plunge for what goes into a hole', () => {
    const words = (feed: string, most: string) =>
      `feed-beyond-machine: slot: a feed of ${feed} mm/min; the machine feeds 1 to ${most} here.`;
    expect(said(SLOT, { feed: 1 })).toEqual([]);
    expect(said(SLOT, { feed: 1200 })).toEqual([]);
    expect(said(SLOT, { feed: 0.99 })).toEqual([words('0.99', '1200')]);
    expect(said(SLOT, { feed: 1200.25 })).toEqual([words('1200.25', '1200')]);
    expect(said(SLOT, { feed: Number.NaN })).toEqual([words('NaN', '1200')]);
    const drill = kinds('drill');
    expect(said(DRILL, { feed: 300 }, drill)).toEqual([]);
    expect(said(DRILL, { feed: 301 }, drill)).toEqual([words('301', '300').replace('slot', 'pin')]);
  });

  it('in inches where the part is drawn in them', () => {
    expect(said(SLOT, { feed: 2540, stepDown: 0.0127 }, SIX, 'inch')).toEqual([
      'pass-too-shallow: slot: passes of 0.0005 in only rub; take 0.0008 in or more.',
      'feed-beyond-machine: slot: a feed of 100 in/min; the machine feeds 0.04 to 47.2 here.',
    ]);
  });
});

describe('of a hold it is said', () => {
  const held = (change: object, unit: 'mm' | 'inch' = 'mm') =>
    holdTermFindings({ ...PLATE, unit }, setup({ ...VICE, ...change }));

  it('that its jaws have no length', () => {
    expect(held({ jaws: { from: 5, to: 5.1 } })).toEqual([]);
    expect(held({ jaws: { from: 5, to: 5 } })).toEqual([
      {
        code: 'jaws-of-no-length',
        severity: 'error',
        message: 'Setup 3: the jaws run from X 5.0 to 5.0.',
        setup: 3,
      },
    ]);
    expect(held({ jaws: { from: 5, to: Number.NaN } })).toHaveLength(1);
    expect(held({ jaws: { from: 25.4, to: 12.7 } }, 'inch').map((f) => f.message)).toEqual([
      'Setup 3: the jaws run from X 1.00 to 0.50.',
    ]);
  });

  it('that it grips deeper than the bar is thick', () => {
    expect(held({ grip: 6 })).toEqual([]);
    expect(held({ grip: 6.1 })).toEqual([
      {
        code: 'grip-too-deep',
        severity: 'error',
        message: 'Setup 3: 6.1 mm are to be held of a bar 6 mm thick.',
        setup: 3,
      },
    ]);
  });

  it('nothing of a plate', () => {
    expect(holdTermFindings(PLATE, setup(TAPE))).toEqual([]);
    const jaws = { ...TAPE, jaws: { from: 5, to: 4 }, grip: 99 } as unknown as Setup['hold'];
    expect(holdTermFindings(PLATE, setup(jaws))).toEqual([]);
  });
});
