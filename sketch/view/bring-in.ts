import { signal } from '@preact/signals';
import { FIT_TOLERANCE } from '../exchange/drawing.ts';
import { backToSheet } from './back-to-sheet.ts';
import type { DrawingAnswer, DrawingAsk, DrawingReply } from './drawing-answers.ts';
import { megabytes } from './files.ts';
import { drawerOpen } from './stage.ts';

/** A drawing that is being brought in. */
export interface Bringing {
  readonly file: File;
  readonly form: 'dxf' | 'svg';
  /** Length of one unit of the file, mm; what the file says when null. */
  readonly mmPerUnit: number | null;
  /** Greatest distance between a curve and what stands for it, mm. */
  readonly tolerance: number;
  /** Null while it is being read for the first time. */
  readonly answer: DrawingAnswer | null;
  /** Whether it is being read now. */
  readonly reading: boolean;
}

export const bringing = signal<Bringing | null>(null);

/** Files beyond this are not even opened, bytes. */
const LONGEST = 200_000_000;

let worker: Worker | null = null;
let ticket = 0;

/** Begins to bring a drawing in: it is read in a worker, and the card shows what came of it. */
export const bringIn = (file: File, form: 'dxf' | 'svg'): void => {
  drawerOpen.value = true;
  letWorkerGo();
  const start: Bringing = {
    file,
    form,
    mmPerUnit: null,
    tolerance: FIT_TOLERANCE,
    answer: null,
    reading: true,
  };
  if (file.size > LONGEST) {
    const messages = [`It has ${megabytes(file.size)}: far too long for a drawing of one part.`];
    bringing.value = { ...start, reading: false, answer: { kind: 'refused', messages } };
    return;
  }
  read(start);
};

/** Reads the same file again, in another unit or to another tolerance. */
export const readAgain = (change: Partial<Pick<Bringing, 'mmPerUnit' | 'tolerance'>>): void => {
  if (bringing.value) read({ ...bringing.value, ...change });
};

/** Lets the drawing be, read or half read. */
export const letBe = (): void => {
  letWorkerGo();
  bringing.value = null;
  backToSheet();
};

const letWorkerGo = (): void => {
  worker?.terminate();
  worker = null;
  ticket++;
};

const read = (b: Bringing): void => {
  // A worker that is still busy with the question before is ended: the newest question wins.
  if (bringing.value?.reading) letWorkerGo();
  bringing.value = { ...b, reading: true };
  const asked = ++ticket;
  worker ??= new Worker(new URL('./drawing-worker.ts', import.meta.url), { type: 'module' });
  worker.onmessage = (e: MessageEvent<DrawingReply>) => {
    if (e.data.ticket === asked) answered(e.data.answer);
  };
  worker.onerror = () => {
    if (asked !== ticket) return;
    letWorkerGo();
    answered({ kind: 'refused', messages: ['The drawing is more than this machine can read.'] });
  };
  const ask: DrawingAsk = {
    ticket: asked,
    file: b.file,
    form: b.form,
    mmPerUnit: b.mmPerUnit,
    tolerance: b.tolerance,
  };
  worker.postMessage(ask);
};

const answered = (answer: DrawingAnswer): void => {
  if (bringing.value) bringing.value = { ...bringing.value, answer, reading: false };
};
