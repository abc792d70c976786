import type { Cutter } from '../../toolpath/machine/cutter.ts';
import type { KeyedPasses } from '../../toolpath/removal/changed-cells.ts';
import { type Cut, cutKey } from '../../toolpath/removal/cut.ts';
import type { Motion, Reading } from '../reading/motion.ts';
import { passGroups } from './passes.ts';
import type { ProofSetup } from './proof.ts';

/** A program's passes, each with all that cutting and judging it goes by as text. */
export interface ProgramPasses {
  readonly passes: KeyedPasses;
  readonly motions: readonly (readonly Motion[])[];
  /** Line of each pass's first motion. */
  readonly firstLines: readonly number[];
}

export const keyedPasses = (reading: Reading, setup: ProofSetup): ProgramPasses => {
  const cutters = new Map(setup.tools.map((c) => [c.number, c]));
  const cuts: string[][] = [];
  const keys: string[] = [];
  const groups = passGroups(reading);
  const all = groups.map((group) => reading.motions.slice(group.first, group.end));
  const passes = groups.map((group, k): readonly Cut[] => {
    const motions = all[k]!;
    const first = motions[0]!.line;
    const limit = setup.limits?.find((l) => l.step === group.step)?.engagement ?? null;
    const made: Cut[] = [];
    const texts: string[] = [];
    for (const motion of motions) {
      const cutter = cutters.get(motion.tool);
      texts.push(cutter ? motionKey(motion, cutter, setup) : `${motion.tool}`);
      made.push({
        stroke: motion,
        cutter: cutter ?? { kind: 'endmill', diameter: 0, pointAngle: Math.PI },
        frame: setup.frame,
      });
    }
    cuts.push(texts);
    const lines = motions.map((m) => m.line - first).join();
    keys.push(`${group.step}|${group.label}|${group.kind}|${limit}|${lines}\n${texts.join('\n')}`);
    return made;
  });
  return { passes: { passes, cuts, keys }, motions: all, firstLines: all.map((motions) => motions[0]!.line) };
};

const motionKey = (motion: Motion, cutter: Cutter, { frame }: ProofSetup): string =>
  `${cutKey({ stroke: motion, cutter, frame })};${motion.kind},${motion.tool},${cutter.fluteLength},${motion.speed === 0}`;
