import { useEffect, useState } from 'preact/hooks';
import type { Json, JsonPath } from '../draft/json.ts';
import type { Quantity } from '../part/dimensions.ts';
import { workOut } from '../part/dimensions.ts';
import { plain } from '../part/units.ts';
import { NumberField } from './number-field.tsx';
import type { Edit, Store } from './store.ts';

/** What every panel of the Draw stage is handed. */
export interface DrawProps {
  readonly store: Store;
  readonly values: ReadonlyMap<string, number>;
}

interface BlankProps extends DrawProps {
  readonly path: JsonPath;
  readonly label: string;
  /** Shown, and taken as meant, when the document leaves the value out. */
  readonly otherwise?: number | string;
  readonly words?: boolean;
  /** Called in place of the plain change, where it takes more than one value. */
  readonly onPut?: (value: number | string) => Edit;
}

const isQuantity = (j: Json | undefined): j is Quantity => typeof j === 'number' || typeof j === 'string';

/** What an arrow key changes a length by, in the document's unit: as on the sheet. */
export const stepOf = (store: Store): number => (store.opened.value?.part.unit === 'inch' ? 0.005 : 0.1);

/** One value of the document, written in place. */
export const Blank = ({ store, values, path, label, otherwise, words, onPut }: BlankProps) => {
  const stated = store.at(path);
  const value = isQuantity(stated) ? stated : (otherwise ?? '');
  const worked = words ? null : workOut(value, values);
  return (
    <NumberField
      key={path.join('.')}
      label={label}
      value={value}
      worked={worked?.ok ? plain(worked.value, 4) : null}
      formula={!words}
      words={words ?? false}
      step={path.at(-1) === 'direction' ? 1 : stepOf(store)}
      put={
        onPut ??
        ((v) => (v === '' ? { ok: false, message: 'This cannot be left empty.' } : store.put(path, v)))
      }
      testId={path.join('.')}
    />
  );
};

interface ChoiceProps {
  readonly store: Store;
  readonly path: JsonPath;
  readonly label: string;
  readonly choices: readonly string[];
  readonly otherwise?: string;
  /** Called in place of the plain change, where another value brings other fields with it. */
  readonly onChoose?: (value: string) => Edit;
}

/** One of a few words, chosen in place; a choice that cannot be is told and not taken. */
export const Choice = ({ store, path, label, choices, otherwise, onChoose }: ChoiceProps) => {
  const [refused, setRefused] = useState<string | null>(null);
  const value = String(store.at(path) ?? otherwise ?? '');
  useEffect(() => setRefused(null), [value]);
  return (
    <>
      <select
        class="choice"
        aria-label={label}
        data-field={path.join('.')}
        value={value}
        onChange={(e) => {
          const select = e.currentTarget;
          const chosen = select.value;
          const edit = onChoose ? onChoose(chosen) : store.put(path, chosen);
          setRefused(edit.ok ? null : edit.message);
          if (!edit.ok) select.value = value;
        }}
      >
        {choices.map((c) => (
          <option key={c} value={c} selected={c === value}>
            {c}
          </option>
        ))}
      </select>
      {refused && (
        <span class="wrong" role="alert">
          {refused}
        </span>
      )}
    </>
  );
};

/** A depth: right through, or so deep. */
export const DepthBlank = (p: DrawProps & { readonly path: JsonPath; readonly label: string }) => {
  const deep = p.store.at(p.path) !== undefined;
  return (
    <>
      <select
        class="choice"
        aria-label={p.label}
        value={deep ? 'deep' : 'through'}
        onChange={(e) => p.store.put(p.path, e.currentTarget.value === 'deep' ? 2 : undefined)}
      >
        <option value="through" selected={!deep}>
          right through
        </option>
        <option value="deep" selected={deep}>
          to a depth of
        </option>
      </select>
      {deep && <Blank {...p} label={`${p.label}: how deep`} />}
    </>
  );
};
