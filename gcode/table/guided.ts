import type { Part } from '../../sketch/part/part.ts';
import type { Plan, PlannedSetup, PlannedStep } from '../../toolpath/passes/pass.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import type { LengthJob, ThicknessJob } from './measured.ts';

/** Work in which a measurement on the way tells the numbers that follow, as the plan asks for it. All mm. */

/** What the last cut of a measured size takes: enough to cut, little enough to trust. Common practice, no source. */
const LAST_CUT = 0.2;
/** Deepest cut with the side of an endmill against an end. Common practice, no source. */
const DEEPEST_END = 0.5;

/** Squaring to length, for a bar that was sawn longer; null where the bar is to length or is not squared. */
export const lengthJobOf = (
  part: Part,
  plan: Plan,
): { readonly setup: number; readonly step: string; readonly job: LengthJob } | null => {
  const { length, sawn } = part.bar;
  for (const { setup, steps } of plan.setups) {
    const square = steps.find((s) => s.step.kind === 'square');
    if (square && sawn > 0) {
      const job: LengthJob = {
        length,
        sawn: length + 2 * sawn,
        cutter: square.cutter.diameter,
        end: 'right',
        deepest: DEEPEST_END,
        last: LAST_CUT,
      };
      return { setup: setup.number, step: square.step.name, job };
    }
  }
  return null;
};

/** A thinning whose thickness is measured after roughing. */
export interface ThinningJob {
  readonly setup: number;
  readonly step: string;
  /** The last roughing pass, from 1: after it the work is measured. */
  readonly after: number;
  readonly job: ThicknessJob;
}

/** Every thinning that leaves something on its floor for a finishing pass. */
export const thicknessJobsOf = (part: Part, plan: Plan): readonly ThinningJob[] =>
  plan.setups.flatMap((setup) => setup.steps.flatMap((step) => thinningOf(part, plan, setup, step) ?? []));

const thinningOf = (part: Part, plan: Plan, setup: PlannedSetup, step: PlannedStep): ThinningJob | null => {
  if (step.step.kind !== 'thin') return null;
  const rough = step.passes.findLastIndex((pass) => pass.kind === 'rough');
  const last = step.passes.at(-1);
  const roughed = step.passes[rough];
  if (roughed === undefined || last === undefined) return null;
  const floor = Math.min(...step.passes.map((pass) => pass.z));
  if (roughed.z - floor < 1e-6) return null;
  // What lies under the floor at the end: from the work's underside where nothing has been taken off that yet.
  const wanted = thicknessUnder(part, plan, setup, step, floor);
  if (wanted === null) return null;
  return {
    setup: setup.setup.number,
    step: step.step.name,
    after: rough + 1,
    job: {
      bar: part.bar.thickness,
      planned: wanted + (roughed.z - floor),
      wanted,
      floor,
      deepest: Math.max(step.step.stepDown, roughed.z - floor),
      last: roughed.z - floor,
    },
  };
};

/** How thick the work is under the floor when it is done, mm, as it can then be measured; null where that differs. */
const thicknessUnder = (
  part: Part,
  plan: Plan,
  setup: PlannedSetup,
  step: PlannedStep,
  floor: number,
): number | null => {
  if (step.step.kind !== 'thin') return null;
  const { lands } = step.step;
  const { frame, stock } = setup;
  const before = plan.setups.slice(0, plan.setups.indexOf(setup)).flatMap((s) => s.steps);
  const thinned = (name: string): boolean =>
    before.some(({ step: other }) => other.kind === 'thin' && other.lands.includes(name));
  const thicknesses = part.lands
    .filter((land) => lands.includes(land.name))
    .map((land) => {
      const face = frame.face === 'front' ? land.bottom : land.top;
      const under = thinned(land.name) ? toProgram(frame, { x: 0, y: 0, z: face }).z : stock.min.z;
      return floor - under;
    });
  const first = thicknesses[0];
  return first !== undefined && first > 0 && thicknesses.every((t) => Math.abs(t - first) < 1e-6)
    ? first
    : null;
};
