import type { Finding, Fork, Unit } from '../../sketch/part/part.ts';
import { smallText } from '../../sketch/part/units.ts';
import type { HeightMap } from '../removal/height-map.ts';
import { sweep } from '../removal/sweep.ts';
import { closeJaws, type Jaws } from './grip.ts';
import { ELASTIC } from './materials.ts';
import { FIRM } from './pass-load.ts';
import type { PassSurvival, SurvivalQuestion, SurvivalTerms } from './pass-survival.ts';
import { forkGaps, type InVice, type Squeezed, squeeze } from './squeeze.ts';
import { startMap } from './survival.ts';
import { USUAL_LIMITS } from './verdict.ts';

/** What the jaws make of the work when it is put into a setup and when the setup is done; null where nothing is held. */
export interface SetupSqueeze {
  readonly setup: number;
  readonly before: Squeezed | null;
  readonly after: Squeezed | null;
}

/**
 * How each setup's jaws distort the work, one setup after the other; two solves each. Whoever takes the steps may stop
 * between any two. Throws nothing that a valid bar could cause.
 */
export function* squeezeInSteps(
  question: SurvivalQuestion,
  forks: readonly Fork[],
  terms: SurvivalTerms = {},
): Generator<SetupSqueeze, void> {
  const { bar, passes } = question;
  const map = startMap(question, terms);
  const material = terms.elastic ?? ELASTIC[bar.material];
  const gaps = forkGaps(forks, bar.thickness / 2);
  const one = (stock: HeightMap, setup: InVice, jaws: Jaws | null): Squeezed | null =>
    jaws && squeeze(stock, setup, jaws, material, terms.clamp ?? FIRM, gaps, terms.brick);
  for (const setup of question.setups) {
    const { hold } = setup;
    const held = hold.kind === 'vice' ? { ...setup, hold } : null;
    const jaws = held && closeJaws(map, held);
    const before = held && one(map, held, jaws);
    for (const pass of passes.filter((p) => p.setup === setup.number)) {
      for (const { stroke } of pass.motions) sweep(map, stroke, pass.cutter, pass.frame);
    }
    // On a plate nothing is squeezed.
    if (held) yield { setup: setup.number, before, after: one(map, held, jaws) };
  }
}

/** The same without a pause. */
export const squeezeRoute = (
  question: SurvivalQuestion,
  forks: readonly Fork[],
  terms: SurvivalTerms = {},
): readonly SetupSqueeze[] => [...squeezeInSteps(question, forks, terms)];

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

/** By fork, the setups in which it is cut and in which its web is released. */
export type ForkWork = ReadonlyMap<
  string,
  { readonly cut: readonly number[]; readonly released: readonly number[] }
>;

/**
 * What the jaws' squeeze is worth saying: a fork that is cut while they hold it closed comes out wide, and what is cut
 * flat on bowed work springs back. `cutIn` tells the setups in which each fork is cut and released; `limit` is in mm, `clamp`
 * in N. A looser vice is only advised where it still holds: `holds` are the least factors of hold of the setups at `clamp`,
 * and they go down with it; for a setup without one a looser vice is not advised.
 */
export const squeezeFindings = (
  squeezes: readonly SetupSqueeze[],
  cutIn: ForkWork,
  limit: number,
  holds: ReadonlyMap<number, number>,
  clamp: number = FIRM,
  unit: Unit = 'mm',
): readonly Finding[] =>
  squeezes.flatMap(({ setup, before, after }) => {
    const findings: Finding[] = [];
    const loosen = (found: number): string | null =>
      looserVice(clamp, limit / Math.abs(found), holds.get(setup) ?? 0);
    for (const { name, closes } of after?.gaps ?? []) {
      const work = cutIn.get(name);
      const isCut = work?.cut.includes(setup) === true;
      if (!(isCut || work?.released.includes(setup)) || Math.abs(closes) <= limit) continue;
      const [when, first] = isCut
        ? ['it is cut', 'leave a web under it until last, or ']
        : ['its web is released, so that the cutter shaves its walls', ''];
      const looser = loosen(closes);
      findings.push({
        code: 'jaws-close-fork',
        severity: 'warning',
        feature: name,
        setup,
        message: `Setup ${setup}: at about ${clamp.toFixed(0)} N the jaws hold ${name} closed by about ${smallText(Math.abs(closes), unit)} while ${when}, and it springs open afterwards: ${first}put a packing piece into the slot${looser ? `, or ${looser}` : TOO_LOOSE}.`,
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
