import { useEffect, useRef, useState } from 'preact/hooks';
import type { Edit, Store } from '../../sketch/view/store.ts';
import type { JobStep, Setup } from '../route/route.ts';
import { FindingNotes } from './finding-notes.tsx';
import { asProposed, bringBack, isReordered, leaveOut, leftOut, moveStep } from './order.ts';
import { StepSentence } from './step-sentence.tsx';
import type { Still, Work } from './work.ts';

interface CutPanelProps {
  readonly store: Store;
  readonly work: Work;
  readonly still: Still | null;
  /** Shows the first pass of a job step. */
  readonly onShow: (step: string) => void;
}

/** The Cut stage: the route as numbered sentences in the order of cutting. */
export const CutPanel = ({ store, work, still, onShow }: CutPanelProps) => {
  const numbers = new Map(
    work.route.setups.flatMap((s) => s.steps).map((step, i) => [step.name, i + 1] as const),
  );
  const panel = useRef<HTMLDivElement>(null);
  const shown = still?.step.step.name ?? null;
  // The sentence of the pass under the slider comes into sight, unless someone is writing in another.
  useEffect(() => {
    if (shown === null || panel.current?.contains(document.activeElement)) return;
    panel.current?.querySelector(`[data-step="${CSS.escape(shown)}"]`)?.scrollIntoView({ block: 'nearest' });
  }, [shown]);
  const general = work.findings.filter((f) => f.feature === undefined || !numbers.has(f.feature));
  return (
    <div class="route" ref={panel}>
      <p class="aside">For the {work.profile.name}. Any figure may be changed where it stands.</p>
      {work.route.setups.map((setup) => (
        <SetupSteps
          key={setup.number}
          store={store}
          work={work}
          setup={setup}
          numbers={numbers}
          shown={shown}
          onShow={onShow}
        />
      ))}
      <FindingNotes findings={general.filter((f) => f.setup === undefined)} />
      <p class="aside">
        Speeds, feeds and forces are estimates from handbook figures: begin lower and listen. What your
        machine's manual says comes first.
      </p>
    </div>
  );
};

interface SetupStepsProps {
  readonly store: Store;
  readonly work: Work;
  readonly setup: Setup;
  readonly numbers: ReadonlyMap<string, number>;
  readonly shown: string | null;
  readonly onShow: (step: string) => void;
}

const SetupSteps = ({ store, work, setup, numbers, shown, onShow }: SetupStepsProps) => {
  const [refused, setRefused] = useState<{ name: string; message: string } | null>(null);
  const [dragged, setDragged] = useState<number | null>(null);
  const told = (name: string, edit: Edit): void =>
    setRefused(edit.ok ? null : { name, message: edit.message });
  const planned = work.plan.setups.find((s) => s.setup.number === setup.number);
  const out = leftOut(work, setup);
  const move = (step: JobStep, from: number, to: number): void =>
    told(step.name, moveStep(store, work, setup, from, to));
  return (
    <section>
      <h2>
        Setup {setup.number}, {setup.face === 'front' ? 'front up' : 'turned over, back up'}
      </h2>
      <ol class="steps" start={numbers.get(setup.steps[0]?.name ?? '') ?? 1}>
        {setup.steps.map((step, i) => (
          <li
            key={step.name}
            class={step.name === shown ? 'picked' : ''}
            data-step={step.name}
            value={numbers.get(step.name)}
            onFocusIn={(e) => {
              if (e.target instanceof HTMLInputElement && step.name !== shown) onShow(step.name);
            }}
            onKeyDown={(e) => {
              if (!e.altKey || (e.key !== 'ArrowUp' && e.key !== 'ArrowDown')) return;
              e.preventDefault();
              move(step, i, e.key === 'ArrowUp' ? i - 1 : i + 1);
            }}
            onDragOver={(e) => {
              if (dragged !== null) e.preventDefault();
            }}
            onDrop={(e) => {
              e.preventDefault();
              if (dragged !== null) move(setup.steps[dragged]!, dragged, i);
              setDragged(null);
            }}
          >
            <StepSentence
              store={store}
              work={work}
              step={step}
              planned={planned?.steps.find((s) => s.step.name === step.name) ?? null}
              numbers={numbers}
              onShow={() => onShow(step.name)}
            />
            <span class="step-tools">
              <button
                type="button"
                class="quiet"
                draggable
                aria-label={`Earlier: ${step.name}`}
                title="Earlier (Alt+↑, or drag)"
                disabled={i === 0}
                onClick={() => move(step, i, i - 1)}
                onDragStart={() => setDragged(i)}
              >
                earlier
              </button>
              <button
                type="button"
                class="quiet"
                aria-label={`Later: ${step.name}`}
                title="Later (Alt+↓)"
                disabled={i === setup.steps.length - 1}
                onClick={() => move(step, i, i + 1)}
              >
                later
              </button>
              <button
                type="button"
                class="quiet"
                aria-label={`Leave out ${step.name}`}
                onClick={() => told(step.name, leaveOut(store, work, setup, step.name))}
              >
                leave out
              </button>
            </span>
            {refused?.name === step.name && (
              <span class="wrong" role="alert">
                {refused.message}
              </span>
            )}
            <FindingNotes findings={work.findings.filter((f) => f.feature === step.name)} />
          </li>
        ))}
      </ol>
      {out.length > 0 && (
        <p class="aside">
          Left out:{' '}
          {out.map((name) => (
            <button
              key={name}
              type="button"
              class="quiet"
              onClick={() => told(name, bringBack(store, work, setup, name))}
            >
              {name} – bring back
            </button>
          ))}
        </p>
      )}
      {isReordered(store, setup) && (
        <button type="button" class="quiet" onClick={() => asProposed(store, work, setup)}>
          put the order back as proposed
        </button>
      )}
      <FindingNotes
        findings={work.findings.filter((f) => f.setup === setup.number && !numbers.has(f.feature ?? ''))}
      />
    </section>
  );
};
