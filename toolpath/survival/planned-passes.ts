import type { Point3 } from '../../sketch/shape/point.ts';
import type { Move, Plan } from '../passes/pass.ts';
import type { Stroke } from '../removal/stroke.ts';
import type { SurveyMotion, SurveyPass } from './force-survey.ts';
import type { SurvivalSetup } from './pass-survival.ts';
import type { ForkMoment } from './squeeze-route.ts';

/** The passes of a plan as the survey walks them, from the planned moves. Work by hand is left out. */
export const plannedPasses = (plan: Plan): readonly SurveyPass[] =>
  passNames(plan).flatMap(({ name, planned, frame, moves }) =>
    planned.step.kind === 'tap'
      ? []
      : [{ ...name, cutter: planned.cutter, speed: planned.speed, frame, motions: motionsOf(moves) }],
  );

/** What every pass of a plan is called, in the order of cutting, work by hand included. */
export const passNames = (plan: Plan) => {
  let still = 0;
  return plan.setups.flatMap(({ setup, frame, steps }) =>
    steps.flatMap((planned) =>
      planned.passes.map((pass, i) => {
        const step = planned.step.name;
        const label = `${step}, pass ${i + 1}`;
        const name = { label, setup: setup.number, step, still: still++, kind: pass.kind };
        return { name, planned, frame, moves: pass.moves };
      }),
    ),
  );
};

export const plannedHolds = (plan: Plan): readonly SurvivalSetup[] =>
  plan.setups.map(({ setup, frame }) => ({ number: setup.number, frame, hold: setup.hold }));

/** The job steps that cut each fork and that release its web. */
export const forkMoments = ({ setups }: Pick<Plan, 'setups'>): readonly ForkMoment[] => {
  const all = setups.flatMap(({ setup, steps }) => steps.map(({ step }) => ({ step, setup: setup.number })));
  const forks = new Map(all.flatMap(({ step }) => (step.kind === 'fork' ? [[step.name, step.fork]] : [])));
  return all.flatMap(({ step, setup }): readonly ForkMoment[] => {
    if (step.kind === 'fork') return [{ setup, step: step.name, fork: step.fork, work: 'cut' }];
    const fork = step.kind === 'release' ? forks.get(step.of) : undefined;
    return fork === undefined ? [] : [{ setup, step: step.name, fork, work: 'released' }];
  });
};

const motionsOf = (moves: readonly Move[]): readonly SurveyMotion[] => {
  const motions: SurveyMotion[] = [];
  let at: Point3 | null = null;
  for (const move of moves) {
    if (move.kind === 'stop') continue;
    if (move.kind === 'drill') {
      const above: Point3 = { ...move.at, z: move.clear };
      motions.push({
        stroke: { kind: 'feed', from: above, to: { ...move.at, z: move.depth } },
        feed: move.feed,
      });
      at = above;
      continue;
    }
    if (at !== null)
      motions.push({ stroke: strokeOf(at, move), feed: move.kind === 'rapid' ? 0 : move.feed });
    at = move.to;
  }
  return motions;
};

const strokeOf = (from: Point3, move: Extract<Move, { to: Point3 }>): Stroke => {
  if (move.kind !== 'arc') return { kind: move.kind, from, to: move.to };
  const { centre, to } = move;
  let sweep = Math.atan2(to.y - centre.y, to.x - centre.x) - Math.atan2(from.y - centre.y, from.x - centre.x);
  if (move.clockwise) while (sweep > -1e-9) sweep -= 2 * Math.PI;
  else while (sweep < 1e-9) sweep += 2 * Math.PI;
  return { kind: 'arc', from, to, centre, sweep };
};
