import type { Finding, Fork, Unit } from '../../sketch/part/part.ts';
import { smallText } from '../../sketch/part/units.ts';
import { sweep } from '../removal/sweep.ts';
import type { SurveyPass } from './force-survey.ts';
import { closeJaws, type Jaws } from './grip.ts';
import { ELASTIC } from './materials.ts';
import { FIRM } from './pass-load.ts';
import type { PassSurvival, SurvivalQuestion, SurvivalTerms } from './pass-survival.ts';
import { forkGaps, type InVice, type Squeezed, type SqueezeField, squeeze, squeezeField } from './squeeze.ts';
import { startMap, stockWalker } from './stock-walk.ts';
import { USUAL_LIMITS } from './verdict.ts';

/** A job step whose cutter runs along a fork's walls: it cuts the fork, or takes away the web under it. */
export interface ForkMoment {
  readonly setup: number;
  readonly step: string;
  readonly fork: string;
  readonly work: 'cut' | 'released';
}

/** How far the jaws hold a fork closed when that is done, mm; less than 0 where they open it. */
export interface ForkSqueeze extends ForkMoment {
  readonly closes: number;
}

/** What the jaws make of the work when it is put into a setup and when the setup is done; null where nothing is held. */
export interface SetupSqueeze {
  readonly setup: number;
  readonly before: Squeezed | null;
  readonly after: Squeezed | null;
  /** Its forks on the stock as it is when their own job step is done: what is cut later in the setup stands yet. */
  readonly forks: readonly ForkSqueeze[];
}

/**
 * How each setup's jaws distort the work, one setup after the other: a solve as it is put in, one when it is done, and
 * one for each of the `moments` at which a cutter has run along a fork. Whoever takes the steps may stop between any two.
 * Throws nothing that a valid bar could cause.
 */
export function* squeezeInSteps(
  question: SurvivalQuestion,
  forks: readonly Fork[],
  moments: readonly ForkMoment[],
  terms: SurvivalTerms = {},
): Generator<SetupSqueeze, void> {
  const { bar, passes } = question;
  const map = startMap(question, terms);
  const material = terms.elastic ?? ELASTIC[bar.material];
  const gaps = forkGaps(forks, bar.thickness / 2);
  const remembered = terms.memory?.along(question, terms);
  /** On the stock when so many passes are cut. */
  const one = (setup: InVice, jaws: Jaws | null, cut: number): Squeezed | null => {
    const squeezed = remembered?.[cut]?.squeezed;
    const held = squeezed && JSON.stringify(setup);
    const known = held === undefined ? undefined : squeezed?.get(held);
    if (known !== undefined) return known;
    const found = jaws && squeeze(map, setup, jaws, material, terms.clamp ?? FIRM, gaps, terms.brick);
    if (held !== undefined) squeezed?.set(held, found);
    return found;
  };
  let cut = 0;
  for (const setup of question.setups) {
    const { hold } = setup;
    const held = hold.kind === 'vice' ? { ...setup, hold } : null;
    const jaws = held && closeJaws(map, held);
    const before = held && one(held, jaws, cut);
    const own = passes.filter((p) => p.setup === setup.number);
    const found = new Map<ForkMoment, Squeezed | null>();
    own.forEach((pass, i) => {
      for (const { stroke } of pass.motions) sweep(map, stroke, pass.cutter, pass.frame);
      cut++;
      const done = moments.filter((m) => own.findLastIndex((p) => isOf(m, p)) === i);
      if (!held || done.length === 0 || i === own.length - 1) return;
      const then = one(held, jaws, cut);
      for (const moment of done) found.set(moment, then);
    });
    // On a plate nothing is squeezed.
    if (!held) continue;
    const after = one(held, jaws, cut);
    const squeezed = moments
      .filter((m) => m.setup === setup.number)
      .map((m): ForkSqueeze => {
        const then = found.has(m) ? found.get(m) : after;
        return { ...m, closes: then?.gaps.find((gap) => gap.name === m.fork)?.closes ?? 0 };
      });
    yield { setup: setup.number, before, after, forks: squeezed };
  }
}

const isOf = (moment: ForkMoment, pass: SurveyPass): boolean =>
  pass.setup === moment.setup && pass.step === moment.step;

/** The same without a pause. */
export const squeezeRoute = (
  question: SurvivalQuestion,
  forks: readonly Fork[],
  moments: readonly ForkMoment[],
  terms: SurvivalTerms = {},
): readonly SetupSqueeze[] => [...squeezeInSteps(question, forks, moments, terms)];

/** How the whole of the work moves between the jaws when a moment's job step is done; null where nothing is squeezed. */
export const squeezeAt = (
  question: SurvivalQuestion,
  moment: ForkMoment,
  terms: SurvivalTerms = {},
): SqueezeField | null => {
  const { bar, passes, setups } = question;
  const last = passes.findLastIndex((pass) => isOf(moment, pass));
  const setup = setups.find((s) => s.number === moment.setup);
  if (last < 0 || setup?.hold.kind !== 'vice') return null;
  const { map, jaws } = stockWalker(question, terms)(last);
  if (jaws?.kind !== 'vice') return null;
  const material = terms.elastic ?? ELASTIC[bar.material];
  const held = { ...setup, hold: setup.hold };
  return squeezeField(map, held, jaws, material, terms.clamp ?? FIRM, [], terms.brick);
};

/** One setup's squeeze as it is written to a file; figures rounded to what they are worth, null where nothing is held. */
export interface SqueezeRow {
  readonly setup: number;
  readonly before: SqueezeFigures | null;
  readonly after: SqueezeFigures | null;
}

interface SqueezeFigures {
  readonly bow_mm: number;
  readonly jawsCloser_mm: number;
  readonly forks: readonly { readonly name: string; readonly closes_mm: number }[];
}

export const squeezeRows = (squeezes: readonly SetupSqueeze[]): readonly SqueezeRow[] =>
  squeezes.map(({ setup, before, after }) => ({ setup, before: figuresOf(before), after: figuresOf(after) }));

const figuresOf = (squeezed: Squeezed | null): SqueezeFigures | null =>
  squeezed && {
    bow_mm: Number(squeezed.bow.toFixed(4)),
    jawsCloser_mm: Number(squeezed.shortens.toFixed(4)),
    forks: squeezed.gaps.map(({ name, closes }) => ({ name, closes_mm: Number(closes.toFixed(4)) })),
  };

/**
 * What the jaws' squeeze is worth saying: a fork that is cut while they hold it closed comes out wide, and what is cut
 * flat on bowed work springs back. `limit` is in mm, `clamp` in N. A looser vice is only advised where it still holds: `holds` are the least factors of hold of the setups at `clamp`,
 * and they go down with it; for a setup without one a looser vice is not advised.
 */
export const squeezeFindings = (
  squeezes: readonly SetupSqueeze[],
  limit: number,
  holds: ReadonlyMap<number, number>,
  clamp: number = FIRM,
  unit: Unit = 'mm',
): readonly Finding[] =>
  squeezes.flatMap(({ setup, before, after, forks }) => {
    const findings: Finding[] = [];
    const loosen = (found: number): string | null =>
      looserVice(clamp, limit / Math.abs(found), holds.get(setup) ?? 0);
    for (const { fork, work, closes } of worstOfEach(forks)) {
      if (Math.abs(closes) <= limit) continue;
      const [when, first] =
        work === 'cut'
          ? ['it is cut', 'leave a web under it until last, or ']
          : ['its web is released, so that the cutter shaves its walls', ''];
      const looser = loosen(closes);
      findings.push({
        code: 'jaws-close-fork',
        severity: 'warning',
        feature: fork,
        setup,
        message: `Setup ${setup}: at about ${clamp.toFixed(0)} N the jaws hold ${fork} closed by about ${smallText(Math.abs(closes), unit)} while ${when}, and it springs open afterwards: ${first}put a packing piece into the slot${looser ? `, or ${looser}` : TOO_LOOSE}.`,
      });
    }
    const bow = Math.max(before?.bow ?? 0, after?.bow ?? 0);
    if (bow > limit) {
      const looser = loosen(bow);
      findings.push({
        code: 'jaws-bow-work',
        severity: 'note',
        setup,
        message: `Setup ${setup}: at about ${clamp.toFixed(0)} N the jaws bow the work by up to about ${smallText(bow, unit)}, and what is cut flat springs back: ${looser ?? `hold it otherwise, on a plate or by thicker stock${TOO_LOOSE}`}.`,
      });
    }
    return findings;
  });

/** Of a fork that is cut and released in one setup, what is worse. */
const worstOfEach = (forks: readonly ForkSqueeze[]): readonly ForkSqueeze[] => {
  const worst = new Map<string, ForkSqueeze>();
  for (const one of forks) {
    const other = worst.get(one.fork);
    if (other === undefined || Math.abs(one.closes) > Math.abs(other.closes)) worst.set(one.fork, one);
  }
  return [...worst.values()];
};

/** Why nothing is said of a looser vice. */
const TOO_LOOSE = '; a vice loose enough to spare it would not hold the work';

/** The clamp that keeps a distortion within a limit, in words; null where the vice would then hold too little. */
const looserVice = (clamp: number, share: number, hold: number): string | null => {
  const bearable = 100 * Math.floor((clamp * share) / 100);
  if (bearable === 0 || (hold * bearable) / clamp < USUAL_LIMITS.hold) return null;
  return `do the vice up to no more than about ${bearable} N from the start of the setup`;
};

/** The least factor of hold of each setup, of the passes that were surveyed. */
export const leastHolds = (passes: readonly PassSurvival[]): ReadonlyMap<number, number> => {
  const holds = new Map<number, number>();
  for (const { force, hold } of passes) {
    if (hold)
      holds.set(force.setup, Math.min(hold.least, holds.get(force.setup) ?? Number.POSITIVE_INFINITY));
  }
  return holds;
};
