import { useState } from 'preact/hooks';
import { moveByReference, type ReferenceKey, referenceOf, referencesFor } from '../draft/reference.ts';
import { inMm, inUnit, lettered } from '../draft/stated.ts';
import { stepOf } from './blank.tsx';
import { NumberField } from './number-field.tsx';
import type { Edit, Store } from './store.ts';

const LABELS: Readonly<Record<ReferenceKey, string>> = {
  across: 'across',
  up: 'up',
  distance: 'or distance',
  angle: 'at',
};

/** Where the picked feature stands as seen from another one: any figure of it moves it there. */
export const ReferenceLine = ({ store, name }: { readonly store: Store; readonly name: string }) => {
  const [wanted, setFrom] = useState('');
  const now = store.opened.value;
  if (!now) return null;
  const others = referencesFor(now.part, name);
  const from = others.includes(wanted) ? wanted : null;
  const reference = referenceOf(now.part, name, from);
  if (!reference) return null;
  const { unit } = now.part;
  const put = (key: ReferenceKey, typed: number | string): Edit => {
    if (typeof typed === 'string') return { ok: false, message: 'A number is wanted here.' };
    const value = key === 'angle' ? (typed * Math.PI) / 180 : inMm(typed, unit);
    const moved = moveByReference(now.document, now.part, name, from, key, value);
    const [held] = moved.held;
    if (held)
      return { ok: false, message: `${held.feature} is held by “${held.formula}”: change that formula.` };
    return store.change(() => moved.document);
  };
  return (
    <details class="reference">
      <summary>measured from …</summary>
      from{' '}
      <select
        class="choice"
        aria-label={`${name} is measured from`}
        value={from ?? ''}
        onChange={(e) => setFrom(e.currentTarget.value)}
      >
        <option value="">nought</option>
        {others.map((o) => (
          <option key={o} value={o} selected={o === from}>
            {o}
          </option>
        ))}
      </select>
      {(Object.keys(LABELS) as ReferenceKey[]).map((key) => (
        <span key={`${from}.${key}`}>
          {' '}
          {LABELS[key]}{' '}
          <NumberField
            label={`${name} from ${from ?? 'nought'}, ${key === 'angle' ? 'angle in degrees' : key}`}
            value={
              key === 'angle'
                ? lettered((reference.angle * 180) / Math.PI, 'degrees')
                : lettered(inUnit(reference[key], unit), unit)
            }
            step={key === 'angle' ? 1 : stepOf(store)}
            put={(v) => put(key, v)}
            testId={`reference.${key}`}
          />
          {key === 'angle' ? '°' : ''}
        </span>
      ))}
    </details>
  );
};
