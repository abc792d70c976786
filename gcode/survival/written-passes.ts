import type { MachineProfile } from '../../toolpath/machine/profile.ts';
import type { Plan } from '../../toolpath/passes/pass.ts';
import type { Stroke } from '../../toolpath/removal/stroke.ts';
import type { SurveyPass } from '../../toolpath/survival/force-survey.ts';
import { passNames } from '../../toolpath/survival/planned-passes.ts';
import { passGroups } from '../proof/passes.ts';
import { motionLength } from '../proof/run-setup.ts';
import { readProgram } from '../reading/read.ts';

/** A setup's program as text. */
export interface Written {
  readonly setup: number;
  readonly text: string;
}

/**
 * The passes of written programs as the survey walks them: motions, cutters, speeds and feeds are what the text says,
 * not what was planned. The plan lends only the frames and, where the text bears as many labels as it has passes, their
 * names. Passes with a cutter that is not owned, or by hand, cut nothing here and are left out.
 */
export const writtenPasses = (
  plan: Plan,
  programs: readonly Written[],
  profile: Pick<MachineProfile, 'cutters' | 'feed'>,
): readonly SurveyPass[] => {
  const cutters = new Map(profile.cutters.map((cutter) => [cutter.number, cutter]));
  const names = passNames(plan).map(({ name }) => name);
  let seconds = 0;
  return plan.setups.flatMap(({ setup, frame }) => {
    const program = programs.find((p) => p.setup === setup.number);
    if (program === undefined) return [];
    const reading = readProgram(program.text);
    const own = names.filter((name) => name.setup === setup.number);
    const named = reading.labels.length === own.length;
    return passGroups(reading).flatMap((group, k): readonly SurveyPass[] => {
      const motions = reading.motions.slice(group.first, group.end);
      const from = seconds;
      seconds += motions.reduce((sum, motion) => sum + secondsOf(motion, profile.feed.rapid), 0);
      const cutter = cutters.get(motions[0]!.tool);
      // Runs without a feed move only on the way to a pass: their time counts, they cut nothing.
      if (cutter === undefined || cutter.kind === 'tap' || group.lowest === null) return [];
      const name = named ? own[Math.max(0, motions[0]!.label)] : undefined;
      return [
        {
          ...(name ?? {
            label: `${group.step}, run ${k + 1}`,
            setup: setup.number,
            step: group.step,
            still: null,
            kind: group.kind,
          }),
          cutter,
          speed: motions.reduce((most, motion) => Math.max(most, motion.speed), 0),
          frame,
          motions: motions.map((stroke) => ({ stroke, feed: stroke.feed })),
          time: { from, to: seconds },
        },
      ];
    });
  });
};

/** How long a motion takes at its feed, or by rapid (mm/min); s. */
export const secondsOf = (motion: Stroke & { readonly feed: number }, rapid: number): number => {
  const feed = motion.kind === 'rapid' ? rapid : motion.feed;
  return feed > 0 ? (60 * motionLength(motion)) / feed : 0;
};
