import { computed, signal } from '@preact/signals';
import { type JsonObject, type JsonPath, setIn } from '../../sketch/draft/json.ts';
import type { Edit } from '../../sketch/view/store.ts';
import { standardProfile } from '../machine/default-profile.ts';
import type { MachineProfile } from '../machine/profile.ts';
import { readProfile, writeProfile } from '../machine/profile-document.ts';
import { formWords } from './form-words.ts';

/** A machine file as text, by the name it says. */
export interface MachineFile {
  readonly name: string;
  readonly text: string;
}

const KEPT_AS = 'leverwright-machine';

const kept = (): string | null => {
  try {
    return localStorage.getItem(KEPT_AS);
  } catch {
    return null;
  }
};

/** The machine's file as it stands; null for the example mill. Kept in this browser, apart from any part. */
export const machineText = signal<string | null>(null);

/** The machine everything is planned for. */
export const machine = computed<MachineProfile>(() => {
  if (machineText.value === null) return standardProfile;
  const reading = readProfile(machineText.value);
  return reading.ok ? reading.profile : standardProfile;
});

/** Takes a machine file; refused, with the first fault, when it cannot be used. */
export const takeMachine = (text: string | null): Edit => {
  if (text !== null) {
    const reading = readProfile(text);
    if (!reading.ok) {
      return { ok: false, message: reading.findings[0]?.message ?? 'This is no machine file.' };
    }
  }
  machineText.value = text;
  try {
    if (text === null) localStorage.removeItem(KEPT_AS);
    else localStorage.setItem(KEPT_AS, text);
  } catch {
    // What cannot be kept holds for as long as the page is open.
  }
  return { ok: true };
};

/** The machine that was used last, where a sound one was kept. */
export const bringMachineBack = (): void => {
  const text = kept();
  if (text !== null && readProfile(text).ok) machineText.value = text;
};

/** The machine's own document with every section written out. */
export const machineDocument = (): JsonObject => JSON.parse(writeProfile(machine.value)) as JsonObject;

/** Puts a value into the machine's document; refused, with the reason, when the machine could not be used. */
export const putMachine = (path: JsonPath, value: Parameters<typeof setIn>[2]): Edit => {
  const edit = takeMachine(JSON.stringify(setIn(machineDocument(), path, value), null, 2));
  return edit.ok ? edit : { ...edit, message: formWords(edit.message) };
};
