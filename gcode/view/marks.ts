import type { Finding } from '../../sketch/part/part.ts';
import { hasErrors } from '../../sketch/part/severity.ts';
import type { Mark, Stage } from '../../sketch/view/stage.ts';
import type { Store } from '../../sketch/view/store.ts';
import type { Bench } from './bench.ts';

const trouble = (findings: readonly Finding[]): boolean => findings.some((f) => f.severity !== 'note');

/** How each stage stands; without a bench as yet, the later ones are on their way. */
export const marksOf = (store: Store, bench: Bench | null): Readonly<Record<Stage, Mark>> => {
  const opened = store.opened.value;
  const work = bench?.work.value ?? null;
  const proof = bench?.proof.value ?? null;
  const busy = bench === null || bench.progress.value !== null;
  const steps = new Set(work?.route.setups.flatMap((s) => s.steps.map((step) => step.name)));
  const ofSteps = work?.findings.filter((f) => f.feature !== undefined && steps.has(f.feature)) ?? [];
  const others = work?.findings.filter((f) => !ofSteps.includes(f)) ?? [];
  const hold = others.filter((f) => f.setup !== undefined);
  const cut = [...ofSteps, ...others.filter((f) => f.setup === undefined)];
  const part = new Set(opened?.findings.map((f) => f.message));
  const say = (bad: boolean): Mark => (!work ? (busy ? 'working' : 'untouched') : bad ? 'look here' : 'fine');
  const proven: Mark = proof
    ? proof.verdict === 'fits' && !trouble(proof.findings)
      ? 'fine'
      : 'look here'
    : busy
      ? 'working'
      : work && hasErrors(work.findings)
        ? 'look here'
        : 'untouched';
  return {
    Draw:
      !opened || opened.wanting.some((f) => f.code === 'no-outline')
        ? 'untouched'
        : trouble(opened.findings)
          ? 'look here'
          : 'fine',
    Hold: say(trouble(hold)),
    Cut: say(trouble(cut.filter((f) => !part.has(f.message)))),
    Prove: proven,
    'Take away': proven === 'fine' ? 'fine' : proof ? 'look here' : proven,
  };
};
