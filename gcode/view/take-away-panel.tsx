import { useSignal } from '@preact/signals';
import { saveText } from '../../sketch/view/files.ts';
import type { Store } from '../../sketch/view/store.ts';
import type { Still, Work } from '../../toolpath/view/work.ts';
import { hasErrors } from '../chain.ts';
import type { Bench } from './bench.ts';
import { pickedLine } from './picking.ts';
import { ProgramText } from './program-text.tsx';

interface TakeAwayProps {
  readonly store: Store;
  readonly bench: Bench;
  readonly work: Work;
  readonly still: Still | null;
  readonly stills: readonly Still[];
  readonly onShow: (still: number) => void;
}

/** The Take away stage: what goes to the machine, with the cautions beside it. */
export const TakeAwayPanel = ({ bench, work, still, stills, onShow }: TakeAwayProps) => {
  const programs = bench.programs.value;
  const chosen = useSignal<number | null>(null);
  const setup = chosen.value ?? still?.setup.setup.number ?? programs[0]?.setup ?? 1;
  const program = programs.find((p) => p.setup === setup);
  if (hasErrors(work.findings)) {
    return (
      <p class="wrong">
        Nothing leaves from here yet: the Cut stage has findings that must be mended first.
      </p>
    );
  }
  if (!program) return <p class="aside">{bench.progress.value ?? 'No program yet.'}</p>;
  const ofSetup = stills.filter((s) => s.setup.setup.number === setup);
  const here = still && still.setup.setup.number === setup ? ofSetup.indexOf(still) : -1;
  const pick = (line: number): void => {
    pickedLine.value = { setup, line };
    const at = program.lines.findLastIndex((l) => l.first > 0 && l.first <= line);
    const target = ofSetup[Math.max(0, at)];
    if (target) onShow(target.index);
  };
  return (
    <div class="take-away">
      <p class="program-tabs" role="group" aria-label="Program">
        {programs.map((p) => (
          <button key={p.setup} type="button" aria-pressed={p.setup === setup} onClick={() => {
            chosen.value = p.setup;
            const first = stills.find((s) => s.setup.setup.number === p.setup);
            if (first) onShow(first.index);
          }}>
            Setup {p.setup}
          </button>
        ))}
        <button type="button" onClick={() => saveText(program.fileName, program.text, 'text/plain')}>
          Save {program.fileName}
        </button>
      </p>
      <ProgramText
        text={program.text}
        marked={program.lines[here] ?? null}
        picked={pickedLine.value?.setup === setup ? pickedLine.value.line : null}
        onPick={pick}
      />
    </div>
  );
};
