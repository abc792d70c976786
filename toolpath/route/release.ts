import type { JobStep, ReleaseStep, Route } from './route.ts';

/** Deepest releasing pass, mm, and its share of the normal feed. Common practice, no source. */
const RELEASE_DEPTH = 0.4;
const RELEASE_FEED = 0.6;

/** The support web that a job step leaves, mm; 0 for none. */
export const webOf = (step: JobStep): number =>
  step.kind === 'fork' || step.kind === 'slot' || step.kind === 'outline' ? step.web : 0;

/** The job step that takes a web away, at its own smaller depth and feed; null where none is left. */
export const releaseOf = (step: JobStep): ReleaseStep | null => {
  const web = webOf(step);
  if (web <= 0) return null;
  return {
    kind: 'release',
    name: `release ${step.name}`,
    of: step.name,
    cutter: step.cutter,
    stepDown: Math.min(RELEASE_DEPTH, web / 2),
    feedShare: RELEASE_FEED,
  };
};

/**
 * A route after its webs were changed: a web that was not there before is released at the very end, and what releases
 * a web that is there no more is left out.
 */
export const keepReleases = (before: Route, after: Route): Route => {
  const had = new Map(before.setups.flatMap((s) => s.steps.map((step) => [step.name, webOf(step)] as const)));
  const all = after.setups.flatMap((s) => s.steps);
  const gone = new Set(all.filter((s) => had.get(s.name) !== 0 && webOf(s) === 0).map((s) => s.name));
  const added = all.filter((s) => had.get(s.name) === 0).flatMap((s) => releaseOf(s) ?? []);
  return {
    setups: after.setups.map((setup, i) => ({
      ...setup,
      steps: [
        ...setup.steps.filter((s) => s.kind !== 'release' || !gone.has(s.of)),
        ...(i === after.setups.length - 1 ? added : []),
      ],
    })),
  };
};
