import { useEffect, useState } from 'preact/hooks';
import type { Size } from '../draft/stroke.ts';
import type { Quantity } from '../part/dimensions.ts';
import type { Drafting } from './drafting.ts';
import { TOOL_HINTS } from './pencil-case.tsx';

/** What was typed as a quantity: a number, or a formula as it stands; null for nothing. */
const typed = (text: string): Quantity | null => {
  const plain = text.trim().replace(/^(-?\d+),(\d+)$/, '$1.$2');
  if (plain === '') return null;
  const number = Number(plain);
  return Number.isFinite(number) ? number : plain;
};

const SizeField = ({ drafting, size }: { readonly drafting: Drafting; readonly size: Size }) => {
  /** What stands in the field while it is written in. */
  const [text, setText] = useState<string | null>(null);
  useEffect(() => {
    if (!size.fixed) setText(null);
  }, [size.fixed]);
  return (
    <label class={size.fixed ? 'size size-fixed' : 'size'}>
      {size.label}
      <input
        type="text"
        inputMode="decimal"
        autocomplete="off"
        spellcheck={false}
        data-size={size.key}
        value={text ?? String(size.value)}
        size={Math.max(4, Math.min(16, (text ?? String(size.value)).length))}
        onFocus={(e) => e.currentTarget.select()}
        onInput={(e) => {
          setText(e.currentTarget.value);
          drafting.fix(size.key, typed(e.currentTarget.value));
        }}
      />
    </label>
  );
};

/** The stroke under way in figures: each can be typed, Enter takes it, Escape lets it go. */
export const StrokeStrip = ({ drafting }: { readonly drafting: Drafting }) => {
  const tool = drafting.tool.value;
  if (!tool) return null;
  const sizes = drafting.sizes.value;
  const under = drafting.stroke.value;
  return (
    <form
      class="draft-strip"
      aria-label={`New ${tool}`}
      data-strip="stroke"
      onSubmit={(e) => {
        e.preventDefault();
        drafting.finish();
      }}
      onKeyDown={(e) => {
        if (e.key !== 'Escape') return;
        e.stopPropagation();
        drafting.letGo();
      }}
    >
      <b>{tool}</b>
      {!under && (
        <span class="hint">
          {TOOL_HINTS[tool]}{' '}
          <span class="keys-only">Enter begins it by numbers. Esc puts the pencil down.</span>
        </span>
      )}
      {sizes.map((s) => (
        <SizeField key={s.key} drafting={drafting} size={s} />
      ))}
      {under && (
        <>
          <button type="submit">Take it</button>
          <button type="button" class="quiet" onClick={drafting.letGo}>
            let go
          </button>
        </>
      )}
    </form>
  );
};
