import { plain } from '../../sketch/part/units.ts';
import type { Store } from '../../sketch/view/store.ts';
import { assumptionsFor } from '../../toolpath/survival/machine-terms.ts';
import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import { FindingNotes } from '../../toolpath/view/finding-notes.tsx';
import type { Still } from '../../toolpath/view/work.ts';
import type { PlannedPart } from '../chain.ts';
import { movementCell } from '../survival/movement-words.ts';
import type { Adviser } from './advice.ts';
import { AdvicePanel } from './advice-panel.tsx';
import type { Bench } from './bench.ts';
import { MovementPanel } from './movement-view.tsx';
import { PassPlots } from './pass-plots.tsx';
import { SqueezeTable } from './squeeze-table.tsx';
import type { Survey, SurveyState } from './survey.ts';
import { SurveyPaper } from './survey-paper.tsx';

interface SurviveProps {
  readonly survey: Survey;
  readonly adviser: Adviser;
  readonly store: Store;
  readonly bench: Bench;
  readonly work: PlannedPart;
  readonly still: Still | null;
  readonly onShow: (still: number) => void;
}

/** Whether the part survives being made: estimates, pass by pass, worked out when they are asked for. */
export const SurvivePanel = ({ survey, adviser, store, bench, work, still, onShow }: SurviveProps) => {
  const state = survey.state.value;
  const chosen = state?.passes.findIndex((p) => p.force.still === still?.index) ?? -1;
  const begin = (): void => survey.begin({ planned: work, programs: bench.programs.value });
  return (
    <section class="survive" aria-label="Will it survive?">
      <h3>Will it survive?</h3>
      {!state && (
        <p>
          <button type="button" disabled={bench.programs.value.length === 0} onClick={begin}>
            Estimate force, bending and hold
          </button>
        </p>
      )}
      {state && (
        <>
          <Progress state={state} survey={survey} begin={begin} />
          {state.failure && (
            <p class="wrong" role="alert">
              {state.failure}
            </p>
          )}
          {state.passes.length > 0 && (
            <>
              <FindingNotes findings={state.findings} />
              {state.share === null && state.findings.length === 0 && (
                <p class="remark">
                  By these estimates nothing moves more than 0.02 mm, and the hold bears at least twice over.
                </p>
              )}
              <PassPlots
                passes={state.passes}
                shown={chosen}
                onPick={(i) => showPass(state.passes[i], onShow)}
              />
              <MovementPanel
                movements={survey.movements}
                ask={{ planned: work, programs: bench.programs.value }}
                chosen={chosen}
                pass={state.passes[chosen] ?? null}
              />
              <Table passes={state.passes} still={still} onShow={onShow} />
              <SqueezeTable rows={state.squeeze} />
              <SurveyPaper ask={{ planned: work, programs: bench.programs.value }} state={state} />
              <AdvicePanel adviser={adviser} store={store} work={work} />
              <details>
                <summary>What these estimates take for granted</summary>
                <ul>
                  {assumptionsFor(
                    work.profile,
                    work.part.bar.material,
                    work.route.setups.map((setup) => setup.hold),
                  ).map((a) => (
                    <li key={a}>{a}</li>
                  ))}
                </ul>
              </details>
            </>
          )}
        </>
      )}
    </section>
  );
};

const showPass = (pass: PassSurvival | undefined, onShow: (still: number) => void): void => {
  if (pass && pass.force.still !== null) onShow(pass.force.still);
};

const Progress = (p: {
  readonly state: SurveyState;
  readonly survey: Survey;
  readonly begin: () => void;
}) => {
  const { share, secondsLeft } = p.state;
  if (share === null) {
    return (
      <p>
        <button type="button" class="quiet" onClick={p.begin}>
          work it out again
        </button>
      </p>
    );
  }
  const left = secondsLeft === null ? '' : `, about ${Math.max(1, Math.round(secondsLeft))} s left`;
  return (
    <p class="survey-progress" role="status">
      <progress max={1} value={share} aria-label="Solved so far" /> {Math.round(share * 100)} %{left}{' '}
      <button type="button" class="quiet" onClick={p.survey.stop}>
        stop here
      </button>
    </p>
  );
};

/** Across for a cutter, along for a drill. */
const forceText = ({ force }: PassSurvival): string =>
  plain(Math.max(force.most, force.thrust), 0).replace(/^0$/, '–');

const Table = (p: {
  readonly passes: readonly PassSurvival[];
  readonly still: Still | null;
  readonly onShow: (still: number) => void;
}) => (
  <div class="table-scroll">
    <table class="survey-table">
      <caption>Estimates for every pass; those marked ≈ are not solved yet</caption>
      <thead>
        <tr>
          <th scope="col">Pass</th>
          <th scope="col">Force N</th>
          <th scope="col">Moves mm</th>
          <th scope="col">Hold ×</th>
          <th scope="col">Web mm</th>
          <th scope="col">Rings Hz</th>
          <th scope="col">Teeth Hz</th>
        </tr>
      </thead>
      <tbody>
        {p.passes.map((pass, i) => (
          <tr
            key={`${i}:${pass.force.label}`}
            aria-current={pass.force.still === p.still?.index ? 'step' : undefined}
          >
            <th scope="row">
              <button type="button" class="quiet" onClick={() => showPass(pass, p.onShow)}>
                {pass.force.label}
              </button>
            </th>
            <td>{forceText(pass)}</td>
            <td>
              {pass.movement === null
                ? '–'
                : `${pass.basis === 'solved' ? '' : '≈ '}${movementCell(pass.movement)}`}
            </td>
            <td>{pass.hold === null ? '–' : pass.hold.least > 99 ? '> 99' : pass.hold.least.toFixed(1)}</td>
            <td>{pass.web === null ? '–' : plain(pass.web, 2)}</td>
            <td>{pass.frequency === null ? '–' : plain(pass.frequency, 0)}</td>
            <td>{plain(pass.toothPassing, 0)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </div>
);
