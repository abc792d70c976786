import { computed, type ReadonlySignal, signal } from '@preact/signals';
import { checkPart } from '../part/checks.ts';
import { readPart } from '../part/document.ts';
import type { Finding, Part } from '../part/part.ts';
import { getIn, type Json, type JsonObject, type JsonPath, setIn } from './json.ts';

/** The open part: its document, and the part it describes. Both are always sound; a bad edit never gets here. */
export interface Opened {
  readonly document: JsonObject;
  readonly part: Part;
  /** Warnings and notes; never errors. */
  readonly findings: readonly Finding[];
}

export type Edit = { readonly ok: true } | { readonly ok: false; readonly message: string };

export interface Store {
  readonly opened: ReadonlySignal<Opened | null>;
  readonly canUndo: ReadonlySignal<boolean>;
  readonly canRedo: ReadonlySignal<boolean>;
  /** Name of the feature that is picked, on the sheet or in the card. */
  readonly picked: ReturnType<typeof signal<string | null>>;
  /** Grows with every part that is opened: what was half typed for the one before is let go. */
  readonly generation: ReadonlySignal<number>;
  /** True while the document differs from what was last opened or saved. */
  readonly unsaved: ReadonlySignal<boolean>;
  /** Reads a part file. When it is not sound the open part stays and the first error is returned. */
  open(text: string): Edit;
  /** Puts a value into the document; refused, with the reason, when the part would not be sound. */
  put(path: JsonPath, value: Json | undefined): Edit;
  /** Changes the whole document at once. */
  change(to: (document: JsonObject) => Json): Edit;
  at(path: JsonPath): Json | undefined;
  undo(): void;
  redo(): void;
  saved(): void;
}

export const createStore = (): Store => {
  const history = signal<readonly Opened[]>([]);
  const index = signal(-1);
  const kept = signal<JsonObject | null>(null);
  const opened = computed(() => history.value[index.value] ?? null);
  const picked = signal<string | null>(null);
  const generation = signal(0);

  const read = (text: string): { edit: Edit; opened?: Opened } => {
    const reading = readPart(text);
    const findings = reading.ok ? [...reading.findings, ...checkPart(reading.part)] : reading.findings;
    const error = findings.find((f) => f.severity === 'error');
    if (!reading.ok || error) {
      return { edit: { ok: false, message: error?.message ?? 'This is not a part that can be read.' } };
    }
    return {
      edit: { ok: true },
      opened: {
        document: JSON.parse(text.replace(/^\ufeff/, '')) as JsonObject,
        part: reading.part,
        findings,
      },
    };
  };

  const change = (to: (document: JsonObject) => Json): Edit => {
    const now = opened.value;
    if (!now) return { ok: false, message: 'No part is open.' };
    const { edit, opened: next } = read(JSON.stringify(to(now.document)));
    if (next) {
      history.value = [...history.value.slice(0, index.value + 1), next];
      index.value++;
    }
    return edit;
  };

  return {
    opened,
    canUndo: computed(() => index.value > 0),
    canRedo: computed(() => index.value < history.value.length - 1),
    picked,
    generation,
    unsaved: computed(() => opened.value !== null && opened.value.document !== kept.value),
    open: (text) => {
      const { edit, opened: next } = read(text);
      if (next) {
        history.value = [next];
        index.value = 0;
        kept.value = next.document;
        picked.value = null;
        generation.value++;
      }
      return edit;
    },
    put: (path, value) => change((d) => setIn(d, path, value)),
    change,
    at: (path) => (opened.value ? getIn(opened.value.document, path) : undefined),
    undo: () => {
      if (index.value > 0) index.value--;
    },
    redo: () => {
      if (index.value < history.value.length - 1) index.value++;
    },
    saved: () => {
      kept.value = opened.value?.document ?? null;
    },
  };
};
