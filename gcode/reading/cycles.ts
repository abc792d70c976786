/** A step of a canned cycle: a straight move of Z alone (mm), or a wait at the bottom (s). */
export type CycleStep =
  | { readonly kind: 'rapid'; readonly z: number }
  | { readonly kind: 'feed'; readonly z: number }
  | { readonly kind: 'dwell'; readonly seconds: number };

/** The numbers of a canned cycle, as heights in mm. */
export interface CycleTerms {
  /** Motion code times ten. */
  readonly code: number;
  readonly retract: number;
  readonly bottom: number;
  /** Height after the cycle: the retract height (G99), or the height before the cycle if that is higher (G98). */
  readonly clear: number;
  readonly peck: number;
  readonly dwell: number;
}

/**
 * How far above the last bottom a peck's rapid stops, mm. NISTIR 6556 section 3.5.16.4 says only "backed off a bit";
 * 0.01 inch is the value of the authors' own interpreter (value from memory).
 */
const BACK_OFF = 0.254;

/** More motions than this at one place are a slip or an attack. */
export const MOST_PECKS = 10_000;

export const pecksOf = (t: CycleTerms): number =>
  t.code === 830 || t.code === 730 ? Math.ceil((t.retract - t.bottom) / t.peck - 1e-9) : 1;

/** Pecks that withdraw to the clear height (G83), or only far enough to break the chip (G73). */
function* pecks(t: CycleTerms): Generator<CycleStep> {
  const count = pecksOf(t);
  for (let k = 1; k < count; k++) {
    const z = t.retract - k * t.peck;
    yield { kind: 'feed', z };
    const lifted = Math.min(z + BACK_OFF, t.clear);
    if (t.code === 830) yield { kind: 'rapid', z: t.clear };
    yield { kind: 'rapid', z: lifted };
  }
  yield { kind: 'feed', z: t.bottom };
  yield { kind: 'rapid', z: t.clear };
}

/** What a cycle does once the cutter stands at the retract height above its place (sections 3.5.16.2 to 3.5.16.10). */
export function* cycleSteps(t: CycleTerms): Generator<CycleStep> {
  switch (t.code) {
    case 730:
    case 830:
      yield* pecks(t);
      return;
    case 850:
    case 890:
      yield { kind: 'feed', z: t.bottom };
      if (t.code === 890) yield { kind: 'dwell', seconds: t.dwell };
      yield { kind: 'feed', z: t.clear };
      return;
    default:
      // G81, and G82 and G86 with their wait. The spindle's stop in G86 moves nothing.
      yield { kind: 'feed', z: t.bottom };
      if (t.code !== 810) yield { kind: 'dwell', seconds: t.dwell };
      yield { kind: 'rapid', z: t.clear };
  }
}
