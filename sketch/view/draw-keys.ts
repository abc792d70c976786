import { toSheet } from '../canvas/camera.ts';
import type { Sheet } from '../canvas/sheet.ts';
import { TOOLS } from '../draft/stroke.ts';
import { placedFeatures } from '../draft/under.ts';
import type { Drafting } from './drafting.ts';
import type { FeatureActs } from './feature-acts.ts';
import { nudgeOf } from './nudge.ts';
import { TOOL_KEYS } from './pencil-case.tsx';
import { stage } from './stage.ts';
import type { Store } from './store.ts';

/** What the keys of the Draw stage work on. */
export interface DrawDesk {
  readonly store: Store;
  readonly sheet: Sheet;
  readonly drafting: Drafting;
  readonly acts: FeatureActs;
}

const isWriting = (target: EventTarget | null): boolean =>
  target instanceof HTMLInputElement ||
  target instanceof HTMLTextAreaElement ||
  target instanceof HTMLSelectElement;

/** Listens for the keys that draw, while the Draw stage is shown and nothing is being written. */
export const listenForDrawKeys = (desk: DrawDesk): void => {
  const { store, acts } = desk;
  // Before the sheet itself takes the arrows to move what is seen.
  window.addEventListener(
    'keydown',
    (e) => {
      if (stage.value === 'Draw' && !e.defaultPrevented && nudgesPicked(e, desk)) e.preventDefault();
    },
    { capture: true },
  );
  window.addEventListener('keydown', (e) => {
    if (stage.value !== 'Draw' || e.defaultPrevented || isWriting(e.target)) return;
    if (e.ctrlKey || e.metaKey) withControl(e, desk);
    else if (!e.altKey && isAtSheet(e.target) && plainKey(e, desk)) e.preventDefault();
  });
  // Copying goes by the browser's own events: they bring the clipboard with them and ask for no leave.
  document.addEventListener('copy', (e) => {
    if (stage.value !== 'Draw' || isWriting(e.target) || store.chosen.value.length === 0) return;
    if (document.getSelection()?.isCollapsed === false) return;
    e.clipboardData?.setData('text/plain', acts.copy() ?? '');
    e.preventDefault();
  });
  document.addEventListener('cut', (e) => {
    if (stage.value !== 'Draw' || isWriting(e.target) || store.chosen.value.length === 0) return;
    e.clipboardData?.setData('text/plain', acts.copy() ?? '');
    acts.remove();
    e.preventDefault();
  });
  document.addEventListener('paste', (e) => {
    if (stage.value !== 'Draw' || isWriting(e.target)) return;
    const text = e.clipboardData?.getData('text/plain') ?? '';
    acts.paste(text);
    e.preventDefault();
  });
};

const withControl = (e: KeyboardEvent, { store, acts }: DrawDesk): void => {
  const key = e.key.toLowerCase();
  const part = store.opened.value?.part;
  if (key === 'a' && part) store.pick(placedFeatures(part).map((f) => f.name));
  else if (key === 'd' && store.chosen.value.length > 0) acts.double();
  else return;
  e.preventDefault();
};

/** The sheet and what lies on it; and the row of save and undo, where a hand stops for a moment while it draws. */
const SHEET = '#drawing, .feature-spots, .measure-spots, .handle, .pencil-case, .draft-strips, .file-row';

/** Keys without Ctrl draw only while the keyboard is at the sheet, not among the figures of the card. */
const isAtSheet = (target: EventTarget | null): boolean =>
  target === document.body || (target instanceof Element && target.closest(SHEET) !== null);

/** Moves what is picked by an arrow key pressed at the sheet; whether it did. */
const nudgesPicked = (e: KeyboardEvent, { store, sheet, drafting }: DrawDesk): boolean => {
  const onSheet =
    e.target instanceof HTMLElement && (e.target.id === 'drawing' || e.target === document.body);
  if (!onSheet || drafting.tool.value || store.chosen.value.length === 0) return false;
  const by = nudgeOf(e, sheet.camera.value.turned, store.opened.value?.part.unit ?? 'mm');
  if (by) drafting.nudge(by);
  return by !== null;
};

/** Whether the key was one of ours. */
const plainKey = (e: KeyboardEvent, { store, sheet, drafting, acts }: DrawDesk): boolean => {
  const onButton = e.target instanceof HTMLButtonElement;
  const stroke = drafting.stroke.value;
  if (e.key === 'Escape') {
    drafting.letGo();
    return true;
  }
  if (stroke && /^[\d.,(-]$/.test(e.key)) {
    // The key itself then goes into the field.
    document.querySelector<HTMLInputElement>('[data-size]')?.focus();
    return false;
  }
  if (e.key === 'Enter' && stroke && !onButton) {
    drafting.finish();
    return true;
  }
  if (e.key === 'Enter' && drafting.tool.value && !onButton) {
    begin(sheet, drafting);
    return true;
  }
  if ((e.key === 'Delete' || e.key === 'Backspace') && store.chosen.value.length > 0) {
    acts.remove();
    return true;
  }
  const spot = e.target instanceof HTMLElement && e.target.dataset.spot !== undefined;
  if (e.key === 'Enter' && spot) {
    document.querySelector<HTMLElement>('[data-strip="picked"] input')?.focus();
    return true;
  }
  if (e.key === 'Enter' && !onButton) {
    // From the sheet to what lies on it, without walking past everything that stands before it.
    const [first] = document.querySelectorAll<HTMLElement>('[data-spot]');
    const picked = [...document.querySelectorAll<HTMLElement>('[data-spot]')].find(
      (s) => s.dataset.spot === store.picked.value,
    );
    (picked ?? first)?.focus();
    return first !== undefined;
  }
  const tool = TOOLS.find((t) => TOOL_KEYS[t] === e.key.toLowerCase());
  if (tool && !e.shiftKey) {
    drafting.take(tool);
    return true;
  }
  return false;
};

/** A stroke begun by keys stands in the middle of what is seen; its figures then say where. */
const begin = (sheet: Sheet, drafting: Drafting): void => {
  const v = sheet.viewport.value;
  const middle = {
    x: (v.covered.left + v.width - v.covered.right) / 2,
    y: (v.covered.top + v.height - v.covered.bottom) / 2,
  };
  drafting.begin(toSheet(sheet.camera.value, v, middle), 14 / sheet.camera.value.scale);
};
