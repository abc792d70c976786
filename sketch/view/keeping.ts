import { computed, signal } from '@preact/signals';
import type { FileHandle } from './file-access.ts';
import { fileStem, saveText } from './files.ts';
import { allKept, keep, sayFault } from './keeper.ts';
import { isPlacement, isSubject, KEYS, type KeptPart, readKept, whenText } from './kept.ts';
import { keptEntries, pageShelf } from './kept-entries.ts';
import { takeDown, tell } from './notices.ts';
import { ask, partFile } from './opening.ts';
import { freshPlace, isHeld, placeOfTab, rememberPlace, takePlace } from './places.ts';
import type { Shelf } from './shelf.ts';
import type { Store } from './store.ts';
import { layAgain } from './underlay.ts';
import { watchWindows } from './windows.ts';

/** A part that is kept in a place. */
export interface Placed {
  readonly place: string;
  readonly kept: KeptPart;
}

/** Parts that other windows left behind without saving them to a file, newest first. */
export const leftBehind = signal<readonly Placed[]>([]);

interface First {
  readonly name: string;
  readonly text: string;
}

type Entries = ReadonlyMap<string, unknown>;

/** Of parts that lie in files anyway, this many are kept for windows that may be opened again, and this long, ms. */
const MOST_SAVED = 5;
const LONGEST_SAVED = 7 * 24 * 3600 * 1000;

const BEFORE = 'leverwright-kept-before';

/** Whether something may be kept here already, from a place that answers at once. */
const keptBefore = (): boolean => {
  try {
    return localStorage.getItem(BEFORE) !== null;
  } catch {
    return false;
  }
};

const rememberKeeping = (): void => {
  try {
    localStorage.setItem(BEFORE, 'yes');
  } catch {
    // Every visit is then taken for the first until the shelf has answered.
  }
};

/**
 * Brings back what this window, or the last one, left, or opens a sample; from then on keeps every change. Nothing that
 * the browser refuses to keep or to give back stops the page: it is said once. What is about to be opened is shown at
 * once; `seen` answers when it is on the sheet, and only then is it checked.
 */
export const startKeeping = async (
  store: Store,
  sample: First | undefined,
  seen: () => Promise<void>,
): Promise<void> => {
  const shelf = pageShelf;
  // Who comes for the first time need not wait until the browser has looked.
  if (sample && !keptBefore()) store.glance(sample.text);
  const touched = (): boolean => store.generation.peek() > 0;
  let entries: Entries = new Map();
  try {
    entries = new Map(await keptEntries);
  } catch (error) {
    sayFault(error);
  }
  const parts = await soundParts(shelf, entries);
  const chosen = await choosePlace(parts, entries);
  let { place } = chosen;
  const { restored, copied, from } = chosen;
  let brought = false;
  if (restored) {
    store.glance(restored.text);
    await seen();
  }
  if (restored && !touched()) {
    // A copy that is let go unchanged is no loss: the other window keeps it.
    const edit = store.open(restored.text, restored.unsaved && !copied);
    brought = edit.ok;
    if (!edit.ok && !copied) await setAside(shelf, KEYS.part(from), restored, edit.message);
  }
  if (brought && restored && !copied) {
    bringFile(entries, from);
    await bringUnderlay(entries, from);
    sayRestored(store, restored, sample);
  }
  // Somebody was quicker than the shelf: what it holds stays where it is, and this window begins a place of its own.
  const overtaken = restored !== null && !copied && !brought && touched() ? from : null;
  if (overtaken !== null) {
    place = freshPlace();
    await takePlace(place, false);
  }
  if (!touched() && sample) {
    store.glance(sample.text);
    await seen();
    if (!touched()) store.open(sample.text);
  }
  rememberPlace(place);
  rememberKeeping();
  const writer = keep(
    store,
    shelf,
    place,
    brought && copied ? (store.opened.peek()?.document ?? null) : null,
  );
  watchWindows(
    place,
    computed(() => store.opened.value?.part.name ?? null),
  );
  leave = { store, shelf, entries, settled: writer.settled };
  await tidy(shelf, parts, place, overtaken);
};

let leave: {
  readonly store: Store;
  readonly shelf: Shelf;
  readonly entries: Entries;
  readonly settled: () => Promise<void>;
} | null = null;

/** Opens a part that another window left; its place is cleared once it is kept in this window's. */
export const openLeftBehind = async ({ place, kept }: Placed): Promise<void> => {
  if (!leave) return;
  const { store, shelf, entries, settled } = leave;
  ask(store, {
    name: kept.name,
    text: kept.text,
    unsaved: true,
    once: () => {
      dropFromList(place);
      void bringUnderlay(entries, place)
        .then(settled)
        .then(() => (allKept.peek() ? clearPlace(shelf, place) : undefined));
    },
  });
};

export const throwAway = async (place: string): Promise<void> => {
  dropFromList(place);
  if (leave) await clearPlace(leave.shelf, place);
};

const dropFromList = (place: string): void => {
  leftBehind.value = leftBehind.value.filter((l) => l.place !== place);
};

const clearPlace = async (shelf: Shelf, place: string): Promise<void> => {
  try {
    for (const key of [KEYS.part, KEYS.subject, KEYS.placement, KEYS.file]) await shelf.remove(key(place));
  } catch {
    // What cannot be cleared is offered again next time.
  }
};

/** The parts that can be brought back, newest first. What is broken is set aside, what is newer left alone; both are said. */
const soundParts = async (shelf: Shelf, entries: Entries): Promise<readonly Placed[]> => {
  const sound: Placed[] = [];
  for (const [key, value] of entries) {
    if (!key.startsWith('part:')) continue;
    const reading = readKept(value);
    if (reading.kind === 'sound') sound.push({ place: key.slice('part:'.length), kept: reading.kept });
    else if (reading.kind === 'broken')
      await setAside(shelf, key, value, 'It is not a part as it is kept here.');
    else {
      tell({
        about: 'newer',
        grave: false,
        words: `A newer Leverwright has kept a part in this browser (form ${reading.version}). It is left as it is for the newer one.`,
      });
    }
  }
  return sound.sort((a, b) => b.kept.at - a.kept.at);
};

const setAside = async (shelf: Shelf, key: string, value: unknown, why: string): Promise<void> => {
  const kept = readKept(value);
  const text = kept.kind === 'sound' ? kept.kept.text : (JSON.stringify(value, null, 2) ?? 'nothing');
  const stem = kept.kind === 'sound' ? fileStem(kept.kept.name) : 'kept-part';
  tell({
    about: 'aside',
    grave: true,
    words: `A part kept in this browser cannot be brought back. ${why} It is set aside, not thrown away.`,
    actions: [
      { words: 'save it as a file', act: () => saveText(`${stem}-set-aside.json`, text, 'application/json') },
    ],
  });
  try {
    await shelf.put(KEYS.aside(key), value);
    await shelf.remove(key);
  } catch (error) {
    sayFault(error);
  }
};

interface Choice {
  readonly place: string;
  /** The place it is brought back from. */
  readonly from: string;
  readonly restored: KeptPart | null;
  /** Whether it belongs to another window, and only a copy is shown here. */
  readonly copied: boolean;
}

/**
 * The place of this window and what is brought back into it: its own after it was loaded anew, else the newest. When
 * the newest belongs to a window that is open, this one begins with a copy in a place of its own.
 */
const choosePlace = async (parts: readonly Placed[], entries: Entries): Promise<Choice> => {
  const own = placeOfTab();
  const ofOwn = parts.find((p) => p.place === own);
  const spoilt = own !== null && ofOwn === undefined && entries.has(KEYS.part(own));
  const mine = own !== null && !spoilt && (await takePlace(own, true)) ? own : null;
  if (mine !== null && ofOwn) return { place: mine, from: mine, restored: ofOwn.kept, copied: false };
  const newest = ofOwn ?? parts[0];
  if (newest && (await takePlace(newest.place, false))) {
    return { place: newest.place, from: newest.place, restored: newest.kept, copied: false };
  }
  const place = mine ?? freshPlace();
  const locked = mine !== null || (await takePlace(place, false));
  if (!newest) return { place, from: place, restored: null, copied: false };
  // Without locks nobody knows whether the other window lives: the copy is kept at once, as if it did not.
  return { place, from: newest.place, restored: newest.kept, copied: locked };
};

const sayRestored = (store: Store, kept: KeptPart, sample: First | undefined): void => {
  tell({
    about: 'restored',
    grave: false,
    words: `Brought back as you left it ${whenText(kept.at, Date.now())}.`,
    actions: sample
      ? [
          {
            words: 'open a sample instead',
            act: () => ask(store, { ...sample, once: () => takeDown('restored') }),
          },
        ]
      : [],
  });
};

const bringUnderlay = async (entries: Entries, place: string): Promise<void> => {
  const subject = entries.get(KEYS.subject(place));
  const where = entries.get(KEYS.placement(place));
  if (isSubject(subject) && isPlacement(where)) await layAgain(subject, where);
};

const bringFile = (entries: Entries, place: string): void => {
  const file = entries.get(KEYS.file(place)) as
    | { handle?: Partial<FileHandle>; written?: unknown }
    | undefined;
  if (typeof file?.handle?.createWritable !== 'function' || typeof file.written !== 'number') return;
  partFile.value = { handle: file.handle as FileHandle, written: file.written };
};

/** Lists what was left unsaved, and lets go of what lies in files and is old. */
const tidy = async (
  shelf: Shelf,
  parts: readonly Placed[],
  own: string,
  overtaken: string | null,
): Promise<void> => {
  const free: Placed[] = [];
  for (const p of parts) {
    if (p.place !== own && (p.place === overtaken || !(await isHeld(p.place)))) free.push(p);
  }
  leftBehind.value = free.filter((p) => p.kept.unsaved);
  const saved = free.filter((p) => !p.kept.unsaved);
  const old = Date.now() - LONGEST_SAVED;
  const past = saved.filter((p, i) => i >= MOST_SAVED || p.kept.at < old);
  for (const { place } of past) await clearPlace(shelf, place);
};
