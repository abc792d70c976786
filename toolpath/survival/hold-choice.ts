import { jutsOut } from '../passes/juts-out.ts';
import type { HoldAdjustment, RouteDocument } from '../route/document.ts';
import type { PackingDocument } from '../route/packing-document.ts';
import { type Assessment, type AssessTerms, assess, type Subject, sameWork } from './assess.ts';
import { inUnit } from './depth-rounds.ts';
import { closesOf } from './orders.ts';
import { USUAL_LIMITS } from './verdict.ts';

/** Packing that was tried, solved, and what it did to what was too much: a fork held closed, or work that a drill pushes down, mm. */
export interface PackingChoice {
  readonly setup: number;
  readonly piece:
    | { readonly kind: 'fork'; readonly fork: string }
    | { readonly kind: 'block'; readonly from: number; readonly to: number };
  readonly before: number;
  readonly after: number;
}

/** Packing must leave no more than this share to be worth its while. */
const HELPS = 0.7;

/**
 * Packing for what moves too far, each piece solved before it is said: a piece in a fork whose web goes while the jaws hold
 * it closed, and a block under what drills push down. An endmill lifts: for it a block does nothing and is not tried.
 * What the file says of a setup's packing is left alone.
 */
export function* seekPacking(
  subject: Subject,
  own: RouteDocument,
  wish: RouteDocument,
  now: Assessment,
  terms: AssessTerms & { readonly tolerance: number },
): Generator<
  { readonly what: string; readonly movement: number; readonly seconds: number },
  {
    readonly wish: RouteDocument;
    readonly choices: readonly PackingChoice[];
    readonly kept: readonly string[];
  }
> {
  const { tolerance } = terms;
  const choices: PackingChoice[] = [];
  const kept: string[] = [];
  let next = wish;
  for (const { number: setup, hold, steps } of now.route.setups) {
    if (hold.kind !== 'vice') continue;
    const tries = [...forkPieces(now, setup, tolerance), ...blocks(now, setup, tolerance)];
    for (const { piece, before, figure } of tries) {
      if (own.setups?.[String(setup)]?.packing !== undefined) {
        kept.push(`the packing of setup ${setup}`);
        break;
      }
      const packed = withPacking(subject, next, setup, piece);
      const then = assess(subject, packed, {
        ...terms,
        steps: steps.map((s) => s.name),
        squeezed: piece.kind === 'fork',
      });
      const after = then.refused === null && sameWork(then, now) ? figure(then) : Number.POSITIVE_INFINITY;
      yield { what: `packing in setup ${setup}`, movement: then.movement, seconds: then.seconds };
      if (after > HELPS * before) continue;
      next = packed;
      choices.push({ setup, piece, before, after });
    }
  }
  return { wish: next, choices, kept };
}

interface Try {
  readonly piece: PackingChoice['piece'];
  readonly before: number;
  readonly figure: (way: Assessment) => number;
}

/** Forks whose webs are released in a setup while its jaws hold them closed. */
const forkPieces = (now: Assessment, setup: number, tolerance: number): readonly Try[] =>
  now.squeezes
    .filter((s) => s.setup === setup)
    .flatMap((s) => s.forks)
    .filter((f) => f.work === 'released' && Math.abs(f.closes) > tolerance)
    .map(({ fork, closes }) => ({
      piece: { kind: 'fork', fork },
      before: Math.abs(closes),
      figure: (way) => closesOf(way, 'released', fork),
    }));

/** A block under what juts out farthest, where a drill pushes the work down too far. */
const blocks = (now: Assessment, setup: number, tolerance: number): readonly Try[] => {
  const pushed = (way: Assessment): number =>
    way.passes
      .filter((p) => p.force.setup === setup && p.force.thrust > p.force.most)
      .reduce((most, p) => Math.max(most, p.movement ?? 0), 0);
  const before = pushed(now);
  const planned = now.plan.setups.find((s) => s.setup.number === setup);
  const free = planned ? jutsOut(planned) : null;
  if (before <= tolerance || free === null) return [];
  return [{ piece: { kind: 'block', ...free }, before, figure: pushed }];
};

const withPacking = (
  subject: Subject,
  wish: RouteDocument,
  setup: number,
  piece: PackingChoice['piece'],
): RouteDocument => {
  const own: PackingDocument[number] =
    piece.kind === 'fork'
      ? piece
      : { kind: 'block', from: inUnit(subject, piece.from), to: inUnit(subject, piece.to) };
  const packing = [...(wish.setups?.[String(setup)]?.packing ?? []), own];
  return withHold(wish, setup, { packing });
};

const withHold = (wish: RouteDocument, setup: number, terms: HoldAdjustment): RouteDocument => ({
  ...wish,
  setups: { ...wish.setups, [String(setup)]: { ...wish.setups?.[String(setup)], ...terms } },
});

/** What glue on a plate would make of a setup that no vice keeps still enough. */
export interface PlateLook {
  readonly setup: number;
  readonly before: number;
  /** Null where it cannot be planned that way. */
  readonly after: number | null;
  readonly hold: number;
}

/** Tape on a plate in place of the vice in the setup that moves most: solved and told, never put into the route. */
export const plateInstead = (
  subject: Subject,
  wish: RouteDocument,
  now: Assessment,
  terms: AssessTerms,
): PlateLook | null => {
  const setup = now.worst?.force.setup;
  const hold = now.route.setups.find((s) => s.number === setup)?.hold;
  if (setup === undefined || hold?.kind !== 'vice') return null;
  const then = assess(subject, withHold(wish, setup, { plate: { kind: 'tape' } }), terms);
  const own = then.passes.filter((p) => p.force.setup === setup);
  const held = own.length > 0 && own.every((p) => p.footing === 'held' || p.footing === 'no force');
  const after = own.reduce((most, p) => Math.max(most, p.movement ?? 0), 0);
  const least = own.reduce((all, p) => Math.min(all, p.hold?.least ?? all), Number.POSITIVE_INFINITY);
  return { setup, before: now.movement, after: then.refused === null && held ? after : null, hold: least };
};

/** Whether a plate would keep a tolerance, and hold. */
export const plateDoes = ({ after, hold }: PlateLook, tolerance: number): boolean =>
  after !== null && after <= tolerance && hold >= USUAL_LIMITS.hold;
