import { clipOf, clipText, pasteClip, readClip } from '../draft/clip.ts';
import type { JsonObject } from '../draft/json.ts';
import { freePlace } from '../draft/move.ts';
import type { Relaid } from '../draft/relay.ts';
import { removeFeatures } from '../draft/remove.ts';
import { backToSheet } from './back-to-sheet.ts';
import type { Drafting } from './drafting.ts';
import type { Edit, Store } from './store.ts';

/** Things done to what is picked. */
export interface FeatureActs {
  remove(): void;
  /** What is picked as text for the clipboard, or null when nothing is. */
  copy(): string | null;
  paste(text: string): void;
  /** A copy beside what is picked. */
  double(): void;
  /** Formulas that hold the picked features become numbers. */
  free(): void;
  /** Takes what an edit made of the picked features, picks what came of it and says what else went on. */
  relaid(make: (document: JsonObject, names: readonly string[]) => Relaid): Edit;
}

/** Steps a copy is laid aside by, in steps of the grid: the first that gives a sound part. */
const ASIDE = [
  [4, 0],
  [0, -4],
  [8, 0],
  [0, 4],
  [-4, 0],
  [16, 0],
  [0, -16],
] as const;

export const createFeatureActs = (store: Store, drafting: Drafting): FeatureActs => {
  const takeRelaid = (made: Relaid): Edit => {
    if (!made.ok) {
      drafting.tell(made);
      return made;
    }
    const [freed] = made.freed;
    const said = [
      ...made.leftOut.map((l) => `${l.feature} was left out: ${l.why}.`),
      ...(freed
        ? [`Now numbers: ${made.freed.map((f) => `“${f.formula}” of ${f.feature}`).join(', ')}.`]
        : []),
    ].join(' ');
    const edit = store.take(made);
    if (drafting.tell(edit, said === '' ? null : said)) store.pick(made.names);
    return edit;
  };

  /** Laid aside by the first step that gives a sound part; else the last trouble is told. */
  const paste = (document: JsonObject, text: string): void => {
    const reading = readClip(text);
    if (!reading.ok) {
      drafting.tell(reading);
      return;
    }
    const grid = Math.max(0.5, drafting.field.value?.grid ?? 1);
    let edit: Edit = { ok: false, message: 'There is nothing to paste.' };
    for (const [x, y] of ASIDE) {
      edit = takeRelaid(pasteClip(document, reading.clip, { x: x * grid, y: y * grid }));
      if (edit.ok) return;
    }
  };

  const copy = (): string | null => {
    const now = store.opened.value;
    return now && store.chosen.value.length > 0 ? clipText(clipOf(now.document, store.chosen.value)) : null;
  };

  return {
    copy,
    remove: () => {
      const now = store.opened.value;
      if (!now || store.chosen.value.length === 0) return;
      const { document, alsoGone } = removeFeatures(now.document, store.chosen.value);
      const said = alsoGone.length > 0 ? `Gone with it: ${alsoGone.join(', ')}.` : null;
      const edit = store.change(() => document);
      if (!drafting.tell(edit, said)) return;
      store.pick([]);
      backToSheet();
    },
    paste: (text) => {
      const now = store.opened.value;
      if (now) paste(now.document, text);
    },
    double: () => {
      const now = store.opened.value;
      const text = copy();
      if (now && text) paste(now.document, text);
    },
    free: () => {
      const field = drafting.heldPaths();
      const edit = store.change((d) => field.reduce(freePlace, d));
      drafting.tell(edit, edit.ok && field.length > 0 ? 'Its formulas are numbers now.' : null);
    },
    relaid: (make) => {
      const now = store.opened.value;
      if (!now) return { ok: false, message: 'No part is open.' };
      return takeRelaid(make(now.document, store.chosen.value));
    },
  };
};
