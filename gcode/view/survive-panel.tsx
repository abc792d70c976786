import type { JsonObject } from '../../sketch/draft/json.ts';
import { setIn } from '../../sketch/draft/json.ts';
import { lengthText, unitSign } from '../../sketch/part/units.ts';
import { NumberField } from '../../sketch/view/number-field.tsx';
import type { Store } from '../../sketch/view/store.ts';
import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import { squeezeRows } from '../../toolpath/survival/squeeze-route.ts';
import { limitsOf } from '../../toolpath/survival/verdict.ts';
import { FindingNotes } from '../../toolpath/view/finding-notes.tsx';
import { inUnit, putRoute, type Still } from '../../toolpath/view/work.ts';
import type { PlannedPart } from '../chain.ts';
import { surveyAssumptions, surveyFindings } from '../survival/survey-report.ts';
import type { Adviser } from './advice.ts';
import { AdvicePanel } from './advice-panel.tsx';
import type { Bench } from './bench.ts';
import { MovementPanel } from './movement-view.tsx';
import { PassPlots } from './pass-plots.tsx';
import { SqueezeTable } from './squeeze-table.tsx';
import type { Survey, SurveyState } from './survey.ts';
import { SurveyPaper } from './survey-paper.tsx';
import { SurveyTable, showPass } from './survey-table.tsx';

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
  const { unit } = work.part;
  const limits = limitsOf(work.route);
  const findings = state ? surveyFindings(work, state.passes, state.squeezes) : [];
  const begin = (): void => survey.begin({ planned: work, programs: bench.programs.value });
  return (
    <section class="survive" aria-label="Will it survive?">
      <h3>Will it survive?</h3>
      <Tolerance store={store} work={work} />
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
              <FindingNotes findings={findings} />
              {state.share === null && !state.stopped && findings.length === 0 && (
                <p class="remark">
                  By these estimates nothing moves more than {lengthText(limits.movement, unit)}, no finished
                  wall or floor is left farther off, and the hold bears at least twice over.
                </p>
              )}
              <PassPlots
                unit={unit}
                limits={limits}
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
              <SurveyTable unit={unit} passes={state.passes} still={still} onShow={onShow} />
              <SqueezeTable rows={squeezeRows(state.squeezes)} unit={unit} />
              <SurveyPaper
                ask={{ planned: work, programs: bench.programs.value }}
                state={state}
                better={adviser.state.value?.kind === 'found' ? adviser.state.value : null}
              />
              <AdvicePanel adviser={adviser} store={store} work={work} />
              <details>
                <summary>What these estimates take for granted</summary>
                <ul>
                  {surveyAssumptions(work).map((a) => (
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

/** The limit that movements and errors are judged by, kept with the part. */
const Tolerance = ({ store, work }: Pick<SurviveProps, 'store' | 'work'>) => {
  const { part, route } = work;
  return (
    <p class="sentence">
      The work may move, and a finished wall or floor be left off, by no more than{' '}
      <NumberField
        label="Tolerance of movements and errors"
        value={inUnit(part, limitsOf(route).movement)}
        put={(value) =>
          typeof value === 'number' && value > 0
            ? putRoute(store, work, (r) => setIn(r, ['tolerance'], value) as JsonObject)
            : { ok: false, message: 'More than 0 is wanted here.' }
        }
        step={part.unit === 'mm' ? 0.005 : 0.0002}
        testId="tolerance"
      />{' '}
      {unitSign(part.unit)}.
    </p>
  );
};

/** Passes that are not solved although something is held and cut. */
const waitingIn = (passes: readonly PassSurvival[]): number =>
  passes.filter((p) => p.basis === 'closed form' && p.footing === 'held').length;

const Progress = (p: {
  readonly state: SurveyState;
  readonly survey: Survey;
  readonly begin: () => void;
}) => {
  const { passes, share, secondsLeft, stopped } = p.state;
  if (share === null) {
    return (
      <p>
        {stopped && (
          <span data-stopped>
            Stopped before all was worked out: the figures so far stand,{' '}
            {waitingIn(passes) > 0
              ? `those of ${waitingIn(passes)} passes marked ≈ by closed forms alone.`
              : 'only what the jaws do to the work is wanting.'}{' '}
          </span>
        )}
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
