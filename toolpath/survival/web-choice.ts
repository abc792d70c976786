import type { Unit } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import type { RouteDocument } from '../route/document.ts';
import { webOf } from '../route/release.ts';
import type { JobStep } from '../route/route.ts';
import { assess, type Subject } from './assess.ts';
import { closesOf } from './orders.ts';
import type { SurvivalTerms } from './pass-survival.ts';
import { setDown } from './step-down.ts';

/** Webs that are tried, mm: round figures in the part's unit. One of less than half a millimetre is a burr. Common practice, no source. */
const WEBS: Readonly<Record<Unit, readonly number[]>> = {
  mm: [0, 0.5, 0.8, 1.2, 1.6, 2, 2.5],
  inch: [0, 0.02, 0.03, 0.05, 0.06, 0.08, 0.1].map((inches) => 25.4 * inches),
};

/** What a fork does with a web: movement of a tine under the cutter, and how far the jaws hold it closed as it is cut, mm. */
export interface WebLook {
  readonly web: number;
  readonly tine: number;
  readonly closes: number;
}

export interface WebChoice {
  readonly fork: string;
  /** The thinnest that keeps the tolerance, or the one that was there when none does, mm. */
  readonly web: number;
  readonly enough: boolean;
  readonly with: WebLook;
  readonly without: WebLook;
  readonly releaseDepth: number | null;
}

/**
 * The thinnest web under a fork with which neither the cutter moves a tine nor the jaws close the slot, while it is
 * cut, by more than the tolerance: what the jaws close then springs open when they let go. The series is halved until one is
 * found, each confirmed by the solver.
 */
export function* thinnestWeb(
  subject: Subject,
  wish: RouteDocument,
  step: JobStep,
  tolerance: number,
  terms: SurvivalTerms,
): Generator<{ readonly what: string; readonly movement: number; readonly seconds: number }, WebChoice> {
  const { unit } = subject.part;
  const webs = WEBS[unit];
  const there = webOf(step);
  const perUnit = subject.part.unit === 'inch' ? 25.4 : 1;
  const seen = new Map<number, WebLook | null>();
  const look = (web: number): WebLook | null => {
    const known = seen.get(web);
    if (known !== undefined) return known;
    const adjust = { ...wish.adjust, [step.name]: { ...wish.adjust?.[step.name], web: web / perUnit } };
    const steps = [step.name, `release ${step.name}`];
    const way = assess(subject, { ...wish, adjust }, { ...terms, steps, squeezed: true });
    const closes = step.kind === 'fork' ? closesOf(way, 'cut', step.fork) : 0;
    const found = way.refused === null ? { web, tine: way.tine, closes } : null;
    seen.set(web, found);
    return found;
  };
  const fits = (found: WebLook | null): boolean =>
    found !== null && Math.max(found.tine, found.closes) <= tolerance;
  const said = (web: number) => {
    const found = look(web);
    const movement = found ? Math.max(found.tine, found.closes) : Number.POSITIVE_INFINITY;
    return { what: `${step.name} with a web of ${lengthText(web, unit)}`, movement, seconds: 0 };
  };
  let [low, high] = [0, webs.length - 1];
  yield said(0);
  if (fits(look(0))) high = 0;
  else low = 1;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    yield said(webs[middle]!);
    if (fits(look(webs[middle]!))) high = middle;
    else low = middle + 1;
  }
  yield said(webs[low]!);
  const best = look(webs[low]!);
  const enough = fits(best);
  const none = look(0) ?? { web: 0, tine: 0, closes: 0 };
  const kept = enough ? best : look(there);
  const web = kept?.web ?? there;
  const releaseDepth = web > 0 ? setDown(Math.min(0.4, web / 2), unit) : null;
  return { fork: step.name, web, enough, with: kept ?? none, without: none, releaseDepth };
}
