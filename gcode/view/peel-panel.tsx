import { useEffect, useRef, useState } from 'preact/hooks';
import type { Json, JsonObject } from '../../sketch/draft/json.ts';
import { setIn } from '../../sketch/draft/json.ts';
import type { Store } from '../../sketch/view/store.ts';
import { isPeelable } from '../../toolpath/passes/peel-cutter.ts';
import { putRoute } from '../../toolpath/view/work.ts';
import type { PlannedPart } from '../chain.ts';
import type { PeelComparison, PeelWay } from '../compare-peeling.ts';
import { timeText } from '../table/figures.ts';
import { ForceChart } from './force-chart.tsx';
import type { PeelAsk, PeelNews } from './peel-worker.ts';

/** Degrees offered where the file states none. */
const USUAL = 60;

interface PeelPanelProps {
  readonly store: Store;
  readonly work: PlannedPart;
}

/** Force and time of a fork, slot or pocket with and without peeling, from both written programs, when asked for. */
export const PeelPanel = ({ store, work }: PeelPanelProps) => {
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
  if (steps.length === 0) return null;
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
    made.postMessage({ planned: work, step, engagement: USUAL } satisfies PeelAsk);
  };
  return (
    <section class="peeling" aria-label="With and without peeling">
      <h3>With and without peeling</h3>
      <p>
        {steps.map((step) => (
          <button key={step.name} type="button" class="quiet" onClick={() => ask(step.name)}>
            compare {step.name}
          </button>
        ))}
      </p>
      {asked !== null && news === null && <p role="status">Both ways of {asked} are being cut…</p>}
      {typeof news === 'string' && <p role="status">{news}</p>}
      {news !== null && typeof news !== 'string' && <Both store={store} work={work} found={news} />}
    </section>
  );
};

const Both = ({ store, work, found }: PeelPanelProps & { readonly found: PeelComparison }) => {
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
