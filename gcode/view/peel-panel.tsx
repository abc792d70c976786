import { useEffect, useRef, useState } from 'preact/hooks';
import type { Json, JsonObject } from '../../sketch/draft/json.ts';
import { setIn } from '../../sketch/draft/json.ts';
import type { Store } from '../../sketch/view/store.ts';
import { isPeelable } from '../../toolpath/passes/peel-cutter.ts';
import type { RouteDocument } from '../../toolpath/route/document.ts';
import { CUTTING_FORCE } from '../../toolpath/survival/cutting-force.ts';
import {
  type EngagementProposal,
  proposalSentence,
  proposeEngagements,
  withEngagements,
} from '../../toolpath/survival/engagement-proposal.ts';
import { machineTerms } from '../../toolpath/survival/machine-terms.ts';
import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import { limitsOf } from '../../toolpath/survival/verdict.ts';
import { putRoute } from '../../toolpath/view/work.ts';
import type { PlannedPart } from '../chain.ts';
import type { PeelComparison, PeelWay } from '../compare-peeling.ts';
import { timeText } from '../table/figures.ts';
import { ForceChart } from './force-chart.tsx';
import type { PeelAsk, PeelNews } from './peel-worker.ts';

/** Degrees offered where the file states none and no estimate asks for less. */
const USUAL = 60;

interface PeelPanelProps {
  readonly store: Store;
  readonly work: PlannedPart;
  /** The estimates, as far as they have been asked for. */
  readonly passes: readonly PassSurvival[];
}

/** What the estimates ask of every job step that can be kept to an angle. */
const proposalsOf = ({ work, passes }: PeelPanelProps): readonly EngagementProposal[] =>
  proposeEngagements(work.part, work.plan, passes, {
    tolerance: limitsOf(work.route).movement,
    cutting:
      machineTerms(work.profile, work.part.bar.material).cutting ?? CUTTING_FORCE[work.part.bar.material],
    cutters: work.profile.cutters,
  });

/** The angle for a job step, degrees, and the sentence that gives its reason. */
const angleFor = (p: PeelPanelProps, name: string): { angle: number; reason: string } => {
  const found = proposalsOf(p).find((one) => one.step === name);
  if (!found)
    return { angle: USUAL, reason: 'Estimate force, bending and hold first, and the angle goes by them.' };
  return {
    angle: found.kind === 'limit' ? found.angle : USUAL,
    reason: proposalSentence(found, limitsOf(p.work.route).movement, p.work.part.unit),
  };
};

/** The limits that the estimates ask for, all put on at one press. */
const Proposals = (p: PeelPanelProps) => {
  const [refused, setRefused] = useState<string | null>(null);
  const found = proposalsOf(p);
  if (found.length === 0) return null;
  const steps = p.work.route.setups.flatMap((s) => s.steps);
  const take = (): void => {
    const edit = putRoute(
      p.store,
      p.work,
      (route) => withEngagements(route as RouteDocument, steps, found) as JsonObject,
    );
    setRefused(edit.ok ? null : edit.message);
  };
  const { movement } = limitsOf(p.work.route);
  return (
    <>
      <p>How deep the cutter may be buried, by the estimates above:</p>
      <ul class="aside" data-limits>
        {found.map((one) => (
          <li key={one.step}>{proposalSentence(one, movement, p.work.part.unit)}</li>
        ))}
      </ul>
      {found.some((one) => one.kind === 'limit') && (
        <p>
          <button type="button" onClick={take}>
            Put these limits on
          </button>{' '}
          (undo takes it back)
        </p>
      )}
      {refused && (
        <p class="wrong" role="alert">
          {refused}
        </p>
      )}
    </>
  );
};

/** Force and time of a fork, slot or pocket with and without peeling, from both written programs, when asked for. */
export const PeelPanel = (p: PeelPanelProps) => {
  const { store, work } = p;
  const steps = work.route.setups.flatMap((s) => s.steps).filter(isPeelable);
  const [news, setNews] = useState<PeelNews | null>(null);
  const [asked, setAsked] = useState<string | null>(null);
  const worker = useRef<Worker | null>(null);
  const end = (): void => {
    worker.current?.terminate();
    worker.current = null;
  };
  // Another state of the part has other forces.
  useEffect(() => {
    setNews(null);
    setAsked(null);
    return end;
  }, [work]);
  if (steps.length === 0 && proposalsOf(p).length === 0) return null;
  const ask = (step: string): void => {
    end();
    setNews(null);
    setAsked(step);
    const made = new Worker(new URL('./peel-worker.ts', import.meta.url), { type: 'module' });
    worker.current = made;
    made.onmessage = (e: MessageEvent<PeelNews>) => {
      setNews(e.data);
      end();
    };
    made.onerror = (e) => setNews(e.message || 'the worker could not be started');
    made.postMessage({ planned: work, step, engagement: angleFor(p, step).angle } satisfies PeelAsk);
  };
  return (
    <section class="peeling" aria-label="With and without peeling">
      <h3>With and without peeling</h3>
      <Proposals {...p} />
      {steps.length > 0 && (
        <p>
          {steps.map((step) => (
            <button key={step.name} type="button" class="quiet" onClick={() => ask(step.name)}>
              compare {step.name}
            </button>
          ))}
        </p>
      )}
      {asked !== null && news === null && <p role="status">Both ways of {asked} are being cut…</p>}
      {typeof news === 'string' && <p role="status">{news}</p>}
      {news !== null && typeof news !== 'string' && (
        <Both store={store} work={work} found={news} reason={angleFor(p, news.step).reason} />
      )}
    </section>
  );
};

interface BothProps extends Pick<PeelPanelProps, 'store' | 'work'> {
  readonly found: PeelComparison;
  readonly reason: string;
}

const Both = ({ store, work, found, reason }: BothProps) => {
  const [refused, setRefused] = useState<string | null>(null);
  const { plain, peeled } = found;
  const take = (): void => {
    const edit = putRoute(store, work, (route) =>
      Object.entries(found.adjust).reduce<JsonObject>(
        (r, [step, terms]) => setIn(r, ['adjust', step], terms as Json) as JsonObject,
        route,
      ),
    );
    setRefused(edit.ok ? null : edit.message);
  };
  return (
    <>
      <table>
        <thead>
          <tr>
            <th>{found.step}, with its web</th>
            <th>Time</th>
            <th>Most, N</th>
            <th>Nine moves in ten under, N</th>
          </tr>
        </thead>
        <tbody>
          <Row name={`${plain.cutter}, not peeled`} way={plain} />
          <Row name={`${peeled.cutter}, peeled under ${peeled.engagement ?? '?'}°`} way={peeled} />
        </tbody>
      </table>
      <ForceChart plain={plain} peeled={peeled} />
      <p class="aside">
        Solid: not peeled; dashed: peeled. Forces are estimates, about right to a half or double; the feed
        holds the tooth load in both.
      </p>
      <p class="aside">{reason}</p>
      {found.now === 'plain' && peeled.fits && (
        <p>
          <button type="button" onClick={take}>
            Peel {found.step} with the {peeled.cutter}
          </button>
        </p>
      )}
      {refused && (
        <p class="wrong" role="alert">
          {refused}
        </p>
      )}
    </>
  );
};

const Row = ({ name, way }: { readonly name: string; readonly way: PeelWay }) => (
  <tr>
    <td>
      {name}
      {!way.fits && ' – would not fit the drawing'}
    </td>
    <td class="n">{timeText(way.seconds)}</td>
    <td class="n">about {way.most.toFixed(0)}</td>
    <td class="n">{way.usual.toFixed(0)}</td>
  </tr>
);
