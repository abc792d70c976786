import { useState } from 'preact/hooks';
import { featureOf } from '../draft/features.ts';
import { KIND_WORDS } from '../draft/new-feature.ts';
import { valuesOf } from '../draft/quantity.ts';
import { backToSheet } from './back-to-sheet.ts';
import type { Drafting } from './drafting.ts';
import type { FeatureActs } from './feature-acts.ts';
import { FeatureSentence } from './features.tsx';
import { ReferenceLine } from './reference-line.tsx';
import { RELAYS, RelayForm, type RelayKind } from './relay-form.tsx';
import type { Store } from './store.ts';

interface StripProps {
  readonly store: Store;
  readonly drafting: Drafting;
  readonly acts: FeatureActs;
}

/** “hole 1” is not said twice. */
const calledBy = (kind: string, name: string): string => (name.startsWith(kind) ? name : `${kind} ${name}`);

/** What is picked, in figures to be changed where they stand. */
export const FeatureStrip = ({ store, drafting, acts }: StripProps) => {
  const [relay, setRelay] = useState<{ kind: RelayKind; of: string } | null>(null);
  const now = store.opened.value;
  const chosen = store.chosen.value;
  if (!now || chosen.length === 0) return null;
  const names = chosen.join('\n');
  // Another choice begins anew.
  const kind = relay?.of === names ? relay.kind : null;
  const found = chosen.flatMap((name) => featureOf(now.document, name) ?? []);
  const only = found.length === 1 ? found[0] : undefined;
  if (found.length === 0) return null;
  return (
    <section
      class="draft-strip"
      aria-label="What is picked"
      data-strip="picked"
      onKeyDown={(e) => {
        if (e.key !== 'Escape') return;
        e.stopPropagation();
        backToSheet();
      }}
    >
      {only ? (
        <span class="sentence">
          <b>{calledBy(KIND_WORDS[only.kind].one, only.name)}</b>{' '}
          <FeatureSentence
            key={only.path.join('.')}
            store={store}
            values={valuesOf(now.document)}
            kind={only.kind}
            path={only.path}
            name={only.name}
          />
        </span>
      ) : (
        <b>
          {found.length} picked: {found.map((f) => f.name).join(', ')}
        </b>
      )}
      {only && only.kind !== 'arms' && <ReferenceLine key={only.name} store={store} name={only.name} />}
      {kind ? (
        <RelayForm key={kind} store={store} acts={acts} kind={kind} onDone={() => setRelay(null)} />
      ) : (
        <span class="strip-acts">
          <button type="button" class="quiet" onClick={acts.double}>
            double
          </button>
          {RELAYS.map((r) => (
            <button key={r} type="button" class="quiet" onClick={() => setRelay({ kind: r, of: names })}>
              {r}
            </button>
          ))}
          {drafting.heldPaths().length > 0 && (
            <button
              type="button"
              class="quiet"
              title="Its formulas become numbers, so that it can be pulled"
              onClick={acts.free}
            >
              free it
            </button>
          )}
          <button type="button" class="quiet" onClick={acts.remove}>
            remove
          </button>
        </span>
      )}
    </section>
  );
};
