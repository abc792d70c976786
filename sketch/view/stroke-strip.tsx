import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { type Size, sizeText } from '../draft/stroke.ts';
import { typedQuantity } from '../draft/typed.ts';
import { backToSheet } from './back-to-sheet.ts';
import type { Drafting } from './drafting.ts';
import { TOOL_HINTS } from './pencil-case.tsx';

const SizeField = ({ drafting, size }: { readonly drafting: Drafting; readonly size: Size }) => {
  /** What stands in the field while it is written in. */
  const [text, setText] = useState<string | null>(null);
  useEffect(() => {
    if (!size.fixed) setText(null);
  }, [size.fixed]);
  const shown = text ?? sizeText(size, drafting.unit.value);
  return (
    <label class={size.fixed ? 'size size-fixed' : 'size'}>
      {size.label}
      <input
        type="text"
        inputMode="decimal"
        autocomplete="off"
        spellcheck={false}
        data-size={size.key}
        value={shown}
        size={Math.max(4, Math.min(16, shown.length))}
        onFocus={(e) => e.currentTarget.select()}
        onInput={(e) => {
          setText(e.currentTarget.value);
          drafting.fix(size.key, typedQuantity(e.currentTarget.value));
        }}
      />
    </label>
  );
};

/** The stroke under way in figures: each can be typed, Enter takes it, Escape lets it go. */
export const StrokeStrip = ({ drafting }: { readonly drafting: Drafting }) => {
  const letGo = (): void => {
    drafting.letGo();
    backToSheet();
  };
  const form = useRef<HTMLFormElement>(null);
  const byNumbers = drafting.byNumbers.value;
  // As soon as the figures stand there, so that no key typed at once goes astray.
  useLayoutEffect(() => {
    if (byNumbers) form.current?.querySelector<HTMLInputElement>('[data-size]')?.focus();
  }, [byNumbers]);
  const tool = drafting.tool.value;
  if (!tool) return null;
  const sizes = drafting.sizes.value;
  const under = drafting.stroke.value;
  return (
    <form
      ref={form}
      class="draft-strip"
      aria-label={`New ${tool}`}
      data-strip="stroke"
      onSubmit={(e) => {
        e.preventDefault();
        drafting.finish();
        // After a typed corner, too: the next figures typed there are the next side’s.
        if (!drafting.stroke.value || drafting.stroke.value.corners.length > 0) backToSheet();
      }}
      onKeyDown={(e) => {
        if (e.key !== 'Escape') return;
        e.stopPropagation();
        letGo();
      }}
    >
      <b>{tool}</b>
      {!under && (
        <span class="hint">
          {TOOL_HINTS[tool]}{' '}
          <span class="keys-only">Enter begins it by numbers. Esc puts the pencil down.</span>
        </span>
      )}
      {under && under.corners.length > 0 && (
        <span class="hint">
          {under.corners.length < 3
            ? 'Tap the next corner.'
            : 'Tap the next corner, or the first one again to close it.'}
        </span>
      )}
      {sizes.map((s) => (
        <SizeField key={s.key} drafting={drafting} size={s} />
      ))}
      {under && (
        <>
          <button type="submit">Take it</button>
          <button type="button" class="quiet" onClick={letGo}>
            let go
          </button>
        </>
      )}
    </form>
  );
};
