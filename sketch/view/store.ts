import { batch, computed, type ReadonlySignal, signal } from '@preact/signals';
import { getIn, type Json, type JsonObject, type JsonPath, setIn } from '../draft/json.ts';
import { checkPart } from '../part/checks.ts';
import { readPart } from '../part/document.ts';
import type { Finding, Part } from '../part/part.ts';

/** The open part: its document, and the part it describes. */
export interface Opened {
  readonly document: JsonObject;
  readonly part: Part;
  /** Warnings and notes, and what is wanting. */
  readonly findings: readonly Finding[];
  /** What must still be drawn before the part can be made; nothing for a sound part. */
  readonly wanting: readonly Finding[];
}

export type Edit = { readonly ok: true } | { readonly ok: false; readonly message: string };

/**
 * What a drawing may lack while it is being drawn: nothing there yet, pieces not joined, something beyond the bar or
 * beyond the outline. Every other error is refused, and the part stays as it was.
 */
const WANTING: ReadonlySet<string> = new Set([
  'no-outline',
  'outline-in-pieces',
  'outside-bar',
  'outside-the-part',
  'part-in-pieces',
]);

export interface Store {
  /** The part as it stands in the history; what is planned, proven and saved. */
  readonly opened: ReadonlySignal<Opened | null>;
  /** What is drawn: a change under way, or the part as it stands. */
  readonly shown: ReadonlySignal<Opened | null>;
  readonly canUndo: ReadonlySignal<boolean>;
  readonly canRedo: ReadonlySignal<boolean>;
  /** Names of the features that are picked, on the sheet or in the card; the last one was picked last. */
  readonly chosen: ReadonlySignal<readonly string[]>;
  /** The feature that was picked last. */
  readonly picked: ReadonlySignal<string | null>;
  /** Grows with every part that is opened: what was half typed for the one before is let go. */
  readonly generation: ReadonlySignal<number>;
  /** True while the document differs from what was last opened or saved. */
  readonly unsaved: ReadonlySignal<boolean>;
  pick(names: readonly string[]): void;
  /**
   * Reads a part file. When it cannot be taken the open part stays and the first error is returned. `unsaved` when what
   * is opened lies in no file yet.
   */
  open(text: string, unsaved?: boolean): Edit;
  /**
   * The first look: shows a part that is about to be opened, so that its drawing need not wait for the checks. Nothing is
   * shown of a text that cannot be read, or over a part that is open.
   */
  glance(text: string): void;
  /** Puts a value into the document; refused, with the reason, when the part would be spoilt. */
  put(path: JsonPath, value: Json | undefined): Edit;
  /** Changes the whole document at once. */
  change(to: (document: JsonObject) => Json): Edit;
  /** Takes a document that an edit made, or hands on why it made none. */
  take(
    made:
      | { readonly ok: true; readonly document: JsonObject }
      | { readonly ok: false; readonly message: string },
  ): Edit;
  /**
   * Shows a change without taking it, as while something is dragged: always made from the part as it stands. A change
   * that cannot be is not shown, and the one before stays.
   */
  preview(to: (document: JsonObject) => Json): Edit;
  /** Takes what is shown, or says why it cannot be and drops it. */
  settle(): Edit;
  /** Lets what is shown go. */
  drop(): void;
  at(path: JsonPath): Json | undefined;
  undo(): void;
  redo(): void;
  saved(): void;
}

const parse = (text: string): JsonObject => JSON.parse(text.replace(/^\ufeff/, '')) as JsonObject;

/** A document's part with everything that is wrong with it, or why it is refused. */
const judge = (
  text: string,
  document: JsonObject,
  reading = readPart(text),
): { edit: Edit; opened?: Opened } => {
  const findings = reading.ok ? [...reading.findings, ...checkPart(reading.part)] : reading.findings;
  const error = findings.find((f) => f.severity === 'error' && !WANTING.has(f.code));
  if (!reading.ok || error) {
    return { edit: { ok: false, message: error?.message ?? 'This is not a part that can be read.' } };
  }
  const wanting = findings.filter((f) => f.severity === 'error');
  return { edit: { ok: true }, opened: { document, part: reading.part, findings, wanting } };
};

export const createStore = (): Store => {
  const history = signal<readonly Opened[]>([]);
  const index = signal(-1);
  const kept = signal<JsonObject | null>(null);
  const opened = computed(() => history.value[index.value] ?? null);
  /** A change under way: drawn, not yet checked. */
  const draft = signal<Opened | null>(null);
  /** What was read for the first look. */
  let glanced: { readonly text: string; readonly reading: ReturnType<typeof readPart> } | null = null;
  const chosen = signal<readonly string[]>([]);
  const generation = signal(0);

  const add = (next: Opened): void => {
    history.value = [...history.value.slice(0, index.value + 1), next];
    index.value++;
  };
  const nothingOpen: Edit = { ok: false, message: 'No part is open.' };

  const change = (to: (document: JsonObject) => Json): Edit => {
    const now = opened.value;
    if (!now) return nothingOpen;
    const document = to(now.document) as JsonObject;
    if (document === now.document) return { ok: true };
    const { edit, opened: next } = judge(JSON.stringify(document), document);
    draft.value = null;
    if (next) add(next);
    return edit;
  };

  return {
    opened,
    shown: computed(() => draft.value ?? opened.value),
    canUndo: computed(() => index.value > 0),
    canRedo: computed(() => index.value < history.value.length - 1),
    chosen,
    picked: computed(() => chosen.value.at(-1) ?? null),
    generation,
    unsaved: computed(() => opened.value !== null && opened.value.document !== kept.value),
    pick: (names) => {
      const same = names.length === chosen.value.length && names.every((n, i) => n === chosen.value[i]);
      if (!same) chosen.value = names;
    },
    open: (text, unsaved = false) => {
      let document: JsonObject = {};
      try {
        document = parse(text);
      } catch {
        // The reader says in which line the fault is.
      }
      const { edit, opened: next } = judge(
        text,
        document,
        glanced?.text === text ? glanced.reading : readPart(text),
      );
      glanced = null;
      if (!next) {
        if (index.value < 0) draft.value = null;
        return edit;
      }
      batch(() => {
        draft.value = null;
        history.value = [next];
        index.value = 0;
        kept.value = unsaved ? null : next.document;
        chosen.value = [];
        generation.value++;
      });
      return edit;
    },
    glance: (text) => {
      if (opened.peek() || glanced?.text === text) return;
      const reading = readPart(text);
      if (!reading.ok) return;
      glanced = { text, reading };
      draft.value = { document: parse(text), part: reading.part, findings: [], wanting: [] };
    },
    put: (path, value) => change((d) => setIn(d, path, value)),
    change,
    take: (made) => (made.ok ? change(() => made.document) : made),
    preview: (to) => {
      const now = opened.value;
      if (!now) return nothingOpen;
      const document = to(now.document) as JsonObject;
      const reading = readPart(document);
      if (!reading.ok) {
        return { ok: false, message: reading.findings[0]?.message ?? 'This cannot be drawn.' };
      }
      draft.value = { document, part: reading.part, findings: now.findings, wanting: now.wanting };
      return { ok: true };
    },
    settle: () => {
      const shown = draft.value;
      if (!shown) return { ok: true };
      return change(() => shown.document);
    },
    drop: () => {
      draft.value = null;
    },
    at: (path) => (opened.value ? getIn(opened.value.document, path) : undefined),
    undo: () => {
      draft.value = null;
      if (index.value > 0) index.value--;
    },
    redo: () => {
      draft.value = null;
      if (index.value < history.value.length - 1) index.value++;
    },
    saved: () => {
      kept.value = opened.value?.document ?? null;
    },
  };
};
