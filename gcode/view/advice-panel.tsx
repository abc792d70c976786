import { useState } from 'preact/hooks';
import type { Json } from '../../sketch/draft/json.ts';
import type { Unit } from '../../sketch/part/part.ts';
import type { Store } from '../../sketch/view/store.ts';
import type { PlannedPart } from '../chain.ts';
import type { OrderPictures } from '../survival/order-pictures.ts';
import type { Advice } from '../survival/report.ts';
import type { Adviser } from './advice.ts';
import { OrderGallery, Orders } from './order-gallery.tsx';

/** How many letters stand side by side over the work's length, two pictures side by side on the card. */
const LETTERS = 11;

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
        <button type="button" onClick={() => adviser.begin({ planned: work, across: LETTERS })}>
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
      return (
        <Found
          advice={state.advice}
          pictures={state.pictures}
          unit={work.part.unit}
          store={store}
          adviser={adviser}
        />
      );
  }
};

const Found = ({
  advice,
  pictures,
  unit,
  store,
  adviser,
}: {
  readonly advice: Advice;
  readonly pictures: readonly OrderPictures[];
  readonly unit: Unit;
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
      </ul>
      {advice.kept.length > 0 && (
        <p class="aside">Your own choices were left alone: {advice.kept.join('; ')}.</p>
      )}
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
      {advice.left.length > 0 && (
        <>
          <p>Tried as well, and left:</p>
          <ul class="aside" data-left>
            {advice.left.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </>
      )}
      <Orders advice={advice} unit={unit} />
      {pictures.map((group) => (
        <OrderGallery key={group.by} group={group} />
      ))}
      <p>
        <button type="button" class="quiet" onClick={adviser.clear}>
          put this away
        </button>
      </p>
    </section>
  );
};
