import { TOOLS, type Tool } from '../draft/stroke.ts';
import type { Drafting } from './drafting.ts';
import { drawerOpen } from './stage.ts';

/** The key that takes each tool in hand. */
export const TOOL_KEYS: Readonly<Record<Tool, string>> = {
  end: 'e',
  arm: 'a',
  plate: 'p',
  hole: 'h',
  slot: 's',
  fork: 'f',
  land: 'l',
};

/** What each tool does, in the words of the hint under it. */
export const TOOL_HINTS: Readonly<Record<Tool, string>> = {
  end: 'Press where its centre shall be and drag out the radius.',
  arm: 'Pull from inside one end to another, or to where a new end shall stand.',
  plate: 'Drag a rectangle, or tap corners one by one and close at the first.',
  hole: 'Press at its centre; drag for the diameter, or tap for the one used last.',
  slot: 'Drag from one round end’s centre to the other’s.',
  fork: 'Press on the edge where it opens and drag inward.',
  land: 'Drag over the part that gets its own height, or tap an end.',
};

/** Arrow keys walk along a toolbar, as the ARIA authoring practices have it; Home and End go to its ends. */
const walkAlong = (e: KeyboardEvent): void => {
  if (!(e.currentTarget instanceof HTMLElement)) return;
  const buttons = [...e.currentTarget.querySelectorAll('button')];
  const at = buttons.findIndex((b) => b.matches(':focus'));
  const to = {
    ArrowRight: at + 1,
    ArrowDown: at + 1,
    ArrowLeft: at - 1,
    ArrowUp: at - 1,
    Home: 0,
    End: -1,
  }[e.key];
  if (to === undefined) return;
  e.preventDefault();
  buttons.at(to % buttons.length)?.focus();
};

/** The things the pencil can draw, as words in a row. */
export const PencilCase = ({ drafting }: { readonly drafting: Drafting }) => (
  <div class="pencil-case" role="toolbar" aria-label="Draw" onKeyDown={walkAlong}>
    {TOOLS.map((t) => (
      <button
        key={t}
        type="button"
        aria-pressed={drafting.tool.value === t}
        aria-keyshortcuts={TOOL_KEYS[t]}
        title={`${TOOL_HINTS[t]} Key: ${TOOL_KEYS[t].toUpperCase()}`}
        data-tool={t}
        onClick={() => {
          drafting.take(drafting.tool.value === t ? null : t);
          // On a phone the drawer would lie over what is to be drawn on.
          drawerOpen.value = false;
        }}
      >
        {t}
      </button>
    ))}
  </div>
);
