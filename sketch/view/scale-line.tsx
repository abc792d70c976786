import { useState } from 'preact/hooks';
import { enlargePart, scaleFor } from '../draft/enlarge.ts';
import { valuesOf } from '../draft/quantity.ts';
import { plain } from '../part/units.ts';
import { NumberField } from './number-field.tsx';
import type { Edit, Store } from './store.ts';

/** The whole part made larger or smaller: by a factor, or so that one dimension becomes what is wanted. */
export const ScaleLine = ({ store }: { readonly store: Store }) => {
  const [by, setBy] = useState('');
  const [figure, setFigure] = useState(1);
  const [keepThickness, setKeep] = useState(false);
  const [said, setSaid] = useState<{ ok: boolean; words: string } | null>(null);
  const document = store.opened.value?.document;
  if (!document) return null;
  const values = valuesOf(document);
  /** Null where the dimension is no length: an angle or a count does not grow with the part. */
  const scale = by === '' ? figure : scaleFor(document, by, figure);

  const go = (): void => {
    if (scale === null) return;
    const made = enlargePart(document, scale, { keepThickness });
    const edit: Edit = store.take(made);
    if (!made.ok || !edit.ok) {
      setSaid({ ok: false, words: edit.ok ? '' : edit.message });
      return;
    }
    // Pressed once more it would not halve again what was halved.
    if (by === '') setFigure(1);
    const numbers = made.worked.map((w) => `“${w.formula}” is a number now`);
    setSaid({
      ok: true,
      words: [`${plain(scale, 4)} times as large.`, ...made.kept, ...numbers].join(' '),
    });
  };
  const put = (v: number | string): Edit => {
    if (typeof v === 'string' || v <= 0) return { ok: false, message: 'A number above nought is wanted.' };
    setFigure(v);
    return { ok: true };
  };
  return (
    <form
      class="sentence scale-line"
      aria-label="The whole part at another scale"
      onSubmit={(e) => {
        e.preventDefault();
        go();
      }}
    >
      Make the whole part{' '}
      <select
        class="choice"
        aria-label="Scale by"
        value={by}
        onChange={(e) => {
          setBy(e.currentTarget.value);
          setFigure(values.get(e.currentTarget.value) ?? 1);
        }}
      >
        <option value="">so many times as large:</option>
        {[...values.keys()]
          .filter((name) => scaleFor(document, name, values.get(name)! * 2) !== null)
          .map((name) => (
            <option key={name} value={name} selected={name === by}>
              so large that {name} becomes
            </option>
          ))}
      </select>{' '}
      <NumberField key={by} label="Scale or new value" value={figure} put={put} testId="scale" />,{' '}
      <label>
        <input type="checkbox" checked={keepThickness} onChange={(e) => setKeep(e.currentTarget.checked)} />{' '}
        heights as they are
      </label>{' '}
      <button type="submit" class="quiet" disabled={scale === null || !(scale > 0) || scale === 1}>
        do it
      </button>{' '}
      {said && (
        <span class={said.ok ? 'aside' : 'wrong'} role={said.ok ? 'status' : 'alert'}>
          {said.words}
        </span>
      )}
    </form>
  );
};
