import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { typedNumber, typedQuantity } from '../draft/typed.ts';
import type { Edit } from './store.ts';

interface NumberFieldProps {
  /** Spoken name, e.g. "Radius of pivot". */
  readonly label: string;
  readonly value: number | string;
  /** Worked-out value, shown beside a formula. */
  readonly worked?: string | null;
  /** Takes what was typed: a number, or a formula as text. */
  readonly put: (value: number | string) => Edit;
  /** Whether formulas are taken beside numbers. */
  readonly formula?: boolean;
  /** Whether this is no number at all but a name or a designation. */
  readonly words?: boolean;
  /** Step of the arrow keys; ten times as much with Shift. */
  readonly step?: number;
  readonly testId?: string;
}

/** Waits this long after the last key before a number is taken, ms. */
const PAUSE = 350;

/**
 * A number written in place, like a figure on a pencilled line. What is typed is taken after a short pause, on Enter
 * or on leaving; what cannot be is kept in the field, with the reason under it, while the part stays as it was.
 */
export const NumberField = (p: NumberFieldProps) => {
  const [draft, setDraft] = useState<string | null>(null);
  const [error, setError] = useState<string | null>(null);
  const timer = useRef(0);
  const id = useId();
  const shown = draft ?? String(p.value);

  useEffect(() => () => clearTimeout(timer.current), []);
  // A value that changes from elsewhere (undo, another field) takes the place of what was left standing here.
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => {
    if (document.activeElement === input.current) return;
    setDraft(null);
    setError(null);
  }, [p.value]);

  const take = (text: string, leaving: boolean): void => {
    clearTimeout(timer.current);
    const typed = text.trim();
    if (typed === String(p.value)) {
      setError(null);
      if (leaving) setDraft(null);
      return;
    }
    if (typed === '' && !p.words) {
      setError('A number is wanted here.');
      return;
    }
    const value = p.words ? typed : p.formula ? (typedQuantity(typed) ?? '') : typedNumber(typed);
    if (value === null) {
      setError(`“${typed}” is not a number.`);
      return;
    }
    const edit = p.put(value);
    setError(edit.ok ? null : edit.message);
    if (edit.ok && leaving) setDraft(null);
  };

  const nudge = (e: KeyboardEvent): void => {
    if (e.key === 'Escape') {
      // The first lets go of what was typed; the next, of the strip or form the field is in.
      if (draft !== null || error !== null) e.stopPropagation();
      clearTimeout(timer.current);
      setDraft(null);
      setError(null);
      return;
    }
    const now = Number(shown);
    if (p.words || (e.key !== 'ArrowUp' && e.key !== 'ArrowDown') || !Number.isFinite(now) || shown === '')
      return;
    e.preventDefault();
    const step = (p.step ?? 0.1) * (e.shiftKey ? 10 : 1) * (e.key === 'ArrowUp' ? 1 : -1);
    const next = String(Number((now + step).toFixed(4)));
    setDraft(next);
    take(next, false);
  };

  return (
    <span class={error ? 'figure figure-wrong' : 'figure'}>
      <input
        ref={input}
        type="text"
        inputMode={p.formula || p.words ? 'text' : 'decimal'}
        aria-label={p.label}
        aria-invalid={error !== null}
        aria-describedby={error ? id : undefined}
        data-field={p.testId}
        value={shown}
        size={Math.max(2, Math.min(22, shown.length))}
        spellcheck={false}
        autocomplete="off"
        onInput={(e) => {
          const text = e.currentTarget.value;
          setDraft(text);
          clearTimeout(timer.current);
          timer.current = window.setTimeout(() => take(text, false), PAUSE);
        }}
        onBlur={(e) => {
          if (draft !== null) take(e.currentTarget.value, true);
        }}
        onKeyDown={(e) => {
          if (e.key === 'Enter') take(e.currentTarget.value, true);
          else nudge(e);
        }}
      />
      {p.worked && typeof p.value === 'string' && !error && <span class="worked">= {p.worked}</span>}
      {error && (
        <span class="wrong" id={id} role="alert">
          {error}
        </span>
      )}
    </span>
  );
};
