import { useState } from 'preact/hooks';
import type { Json } from '../../sketch/draft/json.ts';
import { plain } from '../../sketch/part/units.ts';
import type { Store } from '../../sketch/view/store.ts';
import type { PlannedPart } from '../chain.ts';
import type { Advice } from '../survival/report.ts';
import type { Adviser } from './advice.ts';

interface AdviceProps {
  readonly adviser: Adviser;
  readonly store: Store;
  readonly work: PlannedPart;
}

/** The thinnest web, the largest steps down and the order that keep the work still enough; taken at one press. */
export const AdvicePanel = ({ adviser, store, work }: AdviceProps) => {
  const state = adviser.state.value;
  if (state === null) {
    return (
      <p>
        <button type="button" onClick={() => adviser.begin(work)}>
          What would be better?
        </button>
      </p>
    );
  }
  switch (state.kind) {
    case 'seeking':
      return (
        <p role="status" data-advice="seeking">
          Looking for the web, the depths and the order that keep it still. This takes a minute or so.{' '}
          <button type="button" class="quiet" onClick={adviser.clear}>
            stop looking
          </button>
        </p>
      );
    case 'failed':
      return (
        <p class="wrong" role="alert">
          {state.message}
        </p>
      );
    case 'found':
      return <Found advice={state.advice} store={store} adviser={adviser} />;
  }
};

const Found = ({
  advice,
  store,
  adviser,
}: {
  readonly advice: Advice;
  readonly store: Store;
  readonly adviser: Adviser;
}) => {
  const [refused, setRefused] = useState<string | null>(null);
  const { route } = advice;
  return (
    <section data-advice="found" aria-label="What would be better">
      <ul>
        {advice.reasons.map((r) => (
          <li key={r}>{r}</li>
        ))}
        {advice.kept.map((k) => (
          <li key={k} class="aside">
            {k}
          </li>
        ))}
      </ul>
      {route !== null && (
        <p>
          <button
            type="button"
            onClick={() => {
              const edit = store.put(['route'], route as unknown as Json);
              setRefused(edit.ok ? null : edit.message);
            }}
          >
            Make it so
          </button>{' '}
          (undo takes it back)
        </p>
      )}
      {refused && (
        <p class="wrong" role="alert">
          {refused}
        </p>
      )}
      <Orders advice={advice} />
      <p>
        <button type="button" class="quiet" onClick={adviser.clear}>
          put this away
        </button>
      </p>
    </section>
  );
};

/** One order of the job steps beside another: the picture of why. */
const Orders = ({ advice }: { readonly advice: Advice }) =>
  advice.orders.length < 2 ? null : (
    <div class="table-scroll">
      <table class="survey-table">
        <caption>Orders side by side; all estimates</caption>
        <thead>
          <tr>
            <th scope="col">Order</th>
            <th scope="col">Moves mm</th>
            <th scope="col">Tine mm</th>
            <th scope="col">Fork closes mm</th>
            <th scope="col">Hold ×</th>
            <th scope="col">Time min</th>
          </tr>
        </thead>
        <tbody>
          {advice.orders.map((o) => (
            <tr key={o.name}>
              <th scope="row">{o.name}</th>
              {o.refused !== null ? (
                <td colSpan={5}>{o.refused}</td>
              ) : (
                <>
                  <td>{o.movement_mm.toFixed(3)}</td>
                  <td>{o.tine_mm.toFixed(3)}</td>
                  <td>{o.forkCloses_mm.toFixed(3)}</td>
                  <td>{o.holdFactor === null ? '–' : o.holdFactor.toFixed(1)}</td>
                  <td>{plain(o.time_s / 60, 0)}</td>
                </>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
