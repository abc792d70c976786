import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { renameDimension } from '../draft/rename.ts';
import type { Quantity } from '../part/dimensions.ts';
import { plain } from '../part/units.ts';
import { stepOf } from './blank.tsx';
import { NumberField } from './number-field.tsx';
import type { Store } from './store.ts';

interface DimensionsProps {
  readonly store: Store;
  readonly stated: { readonly [name: string]: Quantity };
  readonly values: ReadonlyMap<string, number>;
}

/** The part's own dimensions, each a number or a formula over the others. */
export const NamedDimensions = ({ store, stated, values }: DimensionsProps) => {
  const [fresh, setFresh] = useState('');
  const [refused, setRefused] = useState<string | null>(null);
  /** Whose figure is wanted next. */
  const [wanted, setWanted] = useState<string | null>(null);
  const table = useRef<HTMLTableElement>(null);
  useLayoutEffect(() => {
    if (wanted === null || !(wanted in stated)) return;
    const figures = [...(table.current?.querySelectorAll<HTMLInputElement>('[data-field]') ?? [])];
    const figure = figures.find((f) => f.dataset.field === `dimensions.${wanted}`);
    figure?.focus();
    figure?.select();
    setWanted(null);
  }, [wanted, stated]);
  const names = Object.keys(stated);
  const add = (): void => {
    const name = fresh.trim();
    if (name in stated) {
      setRefused(`There is a dimension named “${name}” already.`);
      setWanted(name);
      return;
    }
    const edit = store.put(['dimensions', name], store.opened.value?.part.unit === 'inch' ? 0.5 : 10);
    setRefused(edit.ok ? null : edit.message);
    if (!edit.ok) return;
    setFresh('');
    setWanted(name);
  };
  return (
    <>
      <h3>Named dimensions</h3>
      <table class="dimensions" ref={table}>
        <tbody>
          {/* By place, so that the keyboard stays where it was when one gets another name. */}
          {names.map((name, i) => (
            <tr key={i}>
              <th scope="row">
                <NumberField
                  label={`Name of dimension ${name}`}
                  value={name}
                  words
                  put={(to) =>
                    store.take(renameDimension(store.opened.value?.document ?? {}, name, String(to)))
                  }
                />
              </th>
              <td>
                <NumberField
                  label={`Dimension ${name}`}
                  value={stated[name] ?? 0}
                  worked={values.has(name) ? plain(values.get(name) ?? 0, 4) : null}
                  formula
                  step={stepOf(store)}
                  put={(v) => store.put(['dimensions', name], v)}
                  testId={`dimensions.${name}`}
                />
              </td>
              <td>
                <button
                  type="button"
                  class="quiet remove"
                  aria-label={`Remove dimension ${name}`}
                  onClick={() => {
                    const edit = store.put(['dimensions', name], undefined);
                    setRefused(
                      edit.ok ? null : `“${name}” was not removed: something leans on it. ${edit.message}`,
                    );
                  }}
                >
                  remove
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <form
        class="add-dimension"
        onSubmit={(e) => {
          e.preventDefault();
          if (fresh.trim() !== '') add();
        }}
      >
        <input
          type="text"
          aria-label="Name of a new dimension"
          placeholder="new_name"
          value={fresh}
          size={10}
          onInput={(e) => setFresh(e.currentTarget.value)}
        />
        <button type="submit" class="quiet">
          add dimension
        </button>
      </form>
      {refused && (
        <p class="wrong" role="alert">
          {refused}
        </p>
      )}
    </>
  );
};
