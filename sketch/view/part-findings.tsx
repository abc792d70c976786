import type { Finding } from '../part/part.ts';
import type { Store } from './store.ts';

/** A sheet on which nothing is drawn yet is no fault of anybody's. */
const isQuiet = (f: Finding): boolean => f.severity === 'note' || f.code === 'no-outline';

/** What is wanting in the drawing, or odd about it; pressing one picks the feature it speaks of. */
export const PartFindings = ({
  store,
  findings,
}: {
  readonly store: Store;
  readonly findings: readonly Finding[];
}) =>
  findings.length === 0 ? null : (
    <ul class="part-findings" aria-label="What is found in the drawing">
      {findings.map((f) => (
        <li key={f.code + f.message} class={isQuiet(f) ? 'aside' : 'wrong'}>
          {f.message}
          {f.feature && store.opened.value?.part && (
            <>
              {' '}
              <button type="button" class="quiet" onClick={() => store.pick([f.feature!])}>
                show it
              </button>
            </>
          )}
        </li>
      ))}
    </ul>
  );
