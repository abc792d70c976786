import { removeFeatures } from '../draft/remove.ts';
import type { Drafting } from './drafting.ts';
import type { Store } from './store.ts';

/** Things done to what is picked. */
export interface FeatureActs {
  remove(): void;
}

export const createFeatureActs = (store: Store, drafting: Drafting): FeatureActs => ({
  remove: () => {
    const now = store.opened.value;
    if (!now || store.chosen.value.length === 0) return;
    const { document, alsoGone } = removeFeatures(now.document, store.chosen.value);
    const said = alsoGone.length > 0 ? `Gone with it: ${alsoGone.join(', ')}.` : null;
    if (
      drafting.tell(
        store.change(() => document),
        said,
      )
    )
      store.pick([]);
  },
});
