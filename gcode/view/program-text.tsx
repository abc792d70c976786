import { useEffect, useMemo, useRef, useState } from 'preact/hooks';

interface ProgramTextProps {
  readonly text: string;
  /** First and last line of the pass under the slider, from 1. */
  readonly marked: { readonly first: number; readonly last: number } | null;
  /** The line that was clicked, from 1. */
  readonly picked: number | null;
  readonly onPick: (line: number) => void;
}

/** Height of a line, pixels; the style sheet says the same. */
const LINE = 26;
const SPARE = 12;

/** A program's text, of which only the lines in sight are in the page; a click on a line picks its move. */
export const ProgramText = ({ text, marked, picked, onPick }: ProgramTextProps) => {
  const lines = useMemo(() => text.replace(/\n$/, '').split('\n'), [text]);
  const box = useRef<HTMLDivElement>(null);
  const [seen, setSeen] = useState({ top: 0, height: 400 });
  const look = (): void => {
    const b = box.current;
    if (b) setSeen({ top: b.scrollTop, height: b.clientHeight });
  };
  const target = picked ?? marked?.first ?? null;
  useEffect(() => {
    const b = box.current;
    if (!b || target === null) return;
    const y = (target - 1) * LINE;
    if (y < b.scrollTop + LINE || y > b.scrollTop + b.clientHeight - 2 * LINE)
      b.scrollTop = Math.max(0, y - b.clientHeight / 3);
    look();
  }, [target, text]);
  const first = Math.max(0, Math.floor(seen.top / LINE) - SPARE);
  const last = Math.min(lines.length, Math.ceil((seen.top + seen.height) / LINE) + SPARE);
  // Lines out of sight are not in the page, and cannot be spoken of.
  const isThere = target !== null && target > first && target <= last;
  const go = (line: number): void => onPick(Math.min(lines.length, Math.max(1, line)));
  return (
    <div
      class="program"
      ref={box}
      onScroll={look}
      role="listbox"
      tabIndex={0}
      aria-label="Program text. Arrow keys go from line to line."
      aria-activedescendant={isThere ? `line-${target}` : undefined}
      onKeyDown={(e) => {
        const step = { ArrowDown: 1, ArrowUp: -1, PageDown: 12, PageUp: -12 }[e.key];
        if (step === undefined) return;
        e.preventDefault();
        go((target ?? 0) + step);
      }}
    >
      <div class="program-lines" style={{ height: `${lines.length * LINE}px` }}>
        {lines.slice(first, last).map((content, i) => {
          const number = first + i + 1;
          const isMarked = marked !== null && number >= marked.first && number <= marked.last;
          const isPicked = number === picked;
          return (
            // biome-ignore lint/a11y/useKeyWithClickEvents: the list has the keys
            <div
              key={number}
              id={`line-${number}`}
              role="option"
              tabIndex={-1}
              aria-selected={isPicked}
              class={isPicked ? 'line line-picked' : isMarked ? 'line line-marked' : 'line'}
              style={{ top: `${(number - 1) * LINE}px` }}
              data-line={number}
              onClick={() => onPick(number)}
            >
              <span class="line-number">{number}</span>
              {content}
            </div>
          );
        })}
      </div>
    </div>
  );
};
