import { signal } from '@preact/signals';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { newDocument } from '../draft/new-part.ts';
import { writePart } from '../part/document.ts';
import type { Unit } from '../part/part.ts';
import { backToSheet } from './back-to-sheet.ts';
import { ask } from './opening.ts';
import { drawerOpen } from './stage.ts';
import type { Store } from './store.ts';

/** Whether the questions before an empty part stand on the card. */
export const beginning = signal(false);

/** What an empty part needs: a name and a unit. */
export const NewPartCard = ({ store }: { readonly store: Store }) =>
  beginning.value ? <Questions store={store} unit={store.opened.peek()?.part.unit ?? 'mm'} /> : null;

const Questions = (p: { readonly store: Store; readonly unit: Unit }) => {
  const [name, setName] = useState('');
  const [unit, setUnit] = useState(p.unit);
  const first = useRef<HTMLInputElement>(null);
  useLayoutEffect(() => first.current?.focus(), []);
  const done = (): void => {
    beginning.value = false;
    backToSheet();
  };
  return (
    <form
      class="new-part"
      aria-label="Begin a new part"
      onSubmit={(e) => {
        e.preventDefault();
        const document = newDocument(unit, name);
        ask(p.store, {
          name: document.name,
          text: writePart(document),
          once: () => {
            done();
            // On a phone the drawer would lie over the empty bar and what it says.
            drawerOpen.value = false;
          },
        });
      }}
      onKeyDown={(e) => {
        if (e.key === 'Escape') done();
      }}
    >
      <p>
        <label>
          A new part, called{' '}
          <input
            ref={first}
            type="text"
            class="plain-figure"
            size={18}
            maxLength={120}
            placeholder="New part"
            aria-label="Name of the new part"
            value={name}
            onInput={(e) => setName(e.currentTarget.value)}
          />
        </label>
      </p>
      <fieldset>
        <legend class="hidden-words">Unit of the new part</legend>
        {(['mm', 'inch'] as const).map((u) => (
          <label key={u} class="radio">
            <input type="radio" name="new-part-unit" checked={unit === u} onChange={() => setUnit(u)} />{' '}
            {u === 'mm' ? 'in mm, of a bar 80 × 20 × 6' : 'in inches, of a bar 3 × 3/4 × 1/4'}
          </label>
        ))}
      </fieldset>
      <div class="file-row">
        <button type="submit">Begin</button>
        <button type="button" onClick={done}>
          Not now
        </button>
      </div>
    </form>
  );
};
