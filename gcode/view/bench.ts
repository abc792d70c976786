import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { CutLine } from '../../sketch/canvas/section.ts';
import { hasErrors } from '../../sketch/part/severity.ts';
import type { MachineProfile } from '../../toolpath/machine/profile.ts';
import type { SectionStill } from '../../toolpath/view/film-pictures.ts';
import type { PlannedPart } from '../chain.ts';
import type { Proof } from '../proof/proof.ts';
import type { Handwork } from '../sheet/handwork.ts';
import type { Answer, Ask, Layer, Program } from './messages.ts';

/** What the workers have made so far of the open part. Older work stays in sight until newer is there. */
export interface Bench {
  readonly work: ReadonlySignal<PlannedPart | null>;
  readonly programs: ReadonlySignal<readonly Program[]>;
  readonly sections: ReadonlySignal<readonly (SectionStill | undefined)[]>;
  readonly layer: ReadonlySignal<Layer | null>;
  readonly proof: ReadonlySignal<Proof | null>;
  /** The proof of the coordinate table. */
  readonly handwork: ReadonlySignal<Pick<Handwork, 'proof' | 'sound'> | null>;
  /** What is being worked on, in words; null when all is done. */
  readonly progress: ReadonlySignal<string | null>;
  /** How far the proof is, 0 to 1; null while none is under way. */
  readonly proving: ReadonlySignal<number | null>;
  /** The program from a file that is proven in the place of a setup's own; null for the plan's own. */
  readonly foreign: ReadonlySignal<ForeignProgram | null>;
  /** The proof to be looked at: with the program from a file where there is one, else `proof`. */
  readonly judged: ReadonlySignal<Proof | null>;
  /** Whether the proof was stopped before its end. */
  readonly stopped: ReadonlySignal<boolean>;
  readonly failure: ReadonlySignal<string | null>;
  /** Whether a busy worker has given no sign for so long that it may be gone: nothing tells of its end. */
  readonly silent: ReadonlySignal<boolean>;
  /** Begins the newest state's work again with fresh workers. */
  again(): void;
  /** Counts finished plannings, so that a test can tell one from the next. */
  readonly made: ReadonlySignal<number>;
  /** Plans and proves the newest state of the part; whatever was under way is dropped. */
  take(source: string, machine: MachineProfile): void;
  /** Stops the proof under way. */
  stopProof(): void;
  /** Proves the programs from the start; with one from a file in the place of a setup's own. */
  proveAgain(program?: ForeignProgram | null): void;
  /** Says that there is something to plan, before it is handed over. */
  expect(): void;
  /** Lets everything go: there is no whole part to work on. */
  rest(): void;
  /** Makes every pass's section along a line. */
  cutAlong(cut: CutLine): void;
  /** Asks for one pass's path and stock. */
  showLayer(still: number): void;
}

/** A program edited by hand, or from elsewhere. */
export interface ForeignProgram {
  readonly setup: number;
  readonly fileName: string;
  readonly text: string;
}

interface Hand {
  readonly worker: Worker;
  busy: boolean;
  /** No more use: it broke down. */
  spent: boolean;
  /** Ticks since its last sign of life. */
  quiet: number;
}

/** How often busy workers are looked after, ms. Ticks are counted and no clock is read: that may be set anew. */
const TICK = 1000;
/** Ticks without a word after which a worker may be gone. The largest sample takes a phone a few of them. */
const PATIENCE = 20;

const newHand = (answer: (a: Answer) => void): Hand => {
  const hand: Hand = {
    worker: new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }),
    busy: false,
    spent: false,
    quiet: 0,
  };
  hand.worker.onmessage = (e: MessageEvent<Answer>) => {
    hand.quiet = 0;
    answer(e.data);
  };
  hand.worker.onerror = (e) => {
    hand.spent = true;
    answer({ kind: 'failed', ticket: -1, message: e.message || 'the worker could not be started' });
  };
  return hand;
};

/** A worker that is at an older state and gave no sign for so many ticks is ended, and all that it remembers with it. */
const SLOW = 2;

/**
 * Two workers, so that looking through the passes never waits for the proof: one plans, writes and shows, one proves.
 * Both remember what they made, so that the newest edit is soonest worked on by the very same: what is asked of one that
 * is busy with an older state waits a moment, and a proof gives way at its next breath. One that does not for long is
 * ended, and a fresh one takes over.
 */
export const createBench = (): Bench => {
  const work = signal<PlannedPart | null>(null);
  const programs = signal<readonly Program[]>([]);
  const sections = signal<readonly (SectionStill | undefined)[]>([]);
  const layer = signal<Layer | null>(null);
  const proof = signal<Proof | null>(null);
  const handwork = signal<Pick<Handwork, 'proof' | 'sound'> | null>(null);
  const progress = signal<string | null>(null);
  const proving = signal<number | null>(null);
  const stopped = signal(false);
  const foreign = signal<ForeignProgram | null>(null);
  const foreignProof = signal<Proof | null>(null);
  const judged = computed(() => (foreign.value ? foreignProof.value : proof.value));
  const failure = signal<string | null>(null);
  const silent = signal(false);
  const made = signal(0);
  let newest: { readonly source: string; readonly machine: MachineProfile } | null = null;
  let ticket = 0;
  let cut: CutLine | null = null;
  let layerWanted: number | null = null;
  let layerBusy = false;

  const hear = (a: Answer): void => {
    if (a.ticket !== ticket && a.ticket !== -1) return;
    switch (a.kind) {
      case 'planned':
        progress.value = 'Writing the programs …';
        proof.value = null;
        handwork.value = null;
        work.value = a.planned;
        sections.value = [];
        layer.value = null;
        break;
      case 'written':
        planner.busy = false;
        programs.value = a.programs;
        made.value++;
        progress.value = null;
        prove();
        if (cut) send(planner, { kind: 'film', ticket, cut });
        layerBusy = false;
        askLayer();
        break;
      case 'film': {
        if (cut !== null && !sameCut(cut, a.cut)) return;
        const next = [...sections.value];
        a.stills.forEach((s, i) => {
          next[a.first + i] = s;
        });
        sections.value = next;
        break;
      }
      case 'layer':
        layerBusy = false;
        layer.value = a.layer;
        if (layerWanted !== null && layerWanted !== a.layer.still) askLayer();
        break;
      case 'proving':
        proving.value = a.share;
        break;
      case 'proven':
        if (foreign.value) foreignProof.value = a.proof;
        else proof.value = a.proof;
        proving.value = null;
        progress.value = null;
        break;
      case 'by hand':
        prover.busy = false;
        handwork.value = a.handwork;
        break;
      case 'failed':
        planner.busy = false;
        prover.busy = false;
        layerBusy = false;
        proving.value = null;
        progress.value = null;
        failure.value = a.message;
        break;
    }
  };

  let planner = newHand(hear);
  let prover = newHand(hear);
  const send = (hand: Hand, ask: Ask): void => hand.worker.postMessage(ask);
  const fresh = (hand: Hand, patience = SLOW): Hand => {
    if (!hand.spent && (!hand.busy || hand.quiet < patience)) return hand;
    hand.worker.terminate();
    return newHand(hear);
  };
  setInterval(() => {
    for (const hand of [planner, prover]) hand.quiet = hand.busy ? hand.quiet + 1 : 0;
    silent.value = Math.max(planner.quiet, prover.quiet) >= PATIENCE;
  }, TICK);

  const prove = (): void => {
    if (!work.value || hasErrors(work.value.findings)) return;
    progress.value = 'Proving …';
    proving.value = 0;
    stopped.value = false;
    prover.busy = true;
    const other = foreign.value;
    const asked = programs.value.map((own) => (own.setup === other?.setup ? { ...own, ...other } : own));
    send(prover, { kind: 'prove', ticket, planned: work.value, programs: asked });
  };

  /** What is being proven is not wanted any more. */
  const leaveProof = (): void => {
    prover = fresh(prover);
    if (prover.busy) send(prover, { kind: 'leave', ticket });
    prover.busy = false;
  };

  /** One layer is asked for at a time; while the slider is dragged, those in between are passed over. */
  const askLayer = (): void => {
    if (layerWanted === null || layerBusy || planner.busy || !work.value) return;
    layerBusy = true;
    send(planner, { kind: 'layer', ticket, still: layerWanted });
  };

  const take = (source: string, machine: MachineProfile): void => {
    newest = { source, machine };
    ticket++;
    proving.value = null;
    stopped.value = false;
    foreign.value = null;
    failure.value = null;
    silent.value = false;
    progress.value = 'Planning …';
    planner = fresh(planner);
    planner.busy = true;
    leaveProof();
    layerBusy = false;
    send(planner, { kind: 'plan', ticket, source, machine });
  };

  return {
    work,
    programs,
    sections,
    layer,
    proof,
    handwork,
    progress,
    proving,
    stopped,
    foreign,
    judged,
    failure,
    made,
    stopProof: () => {
      if (proving.value === null) return;
      prover = fresh(prover, 0);
      prover.busy = false;
      proving.value = null;
      progress.value = null;
      stopped.value = true;
    },
    proveAgain: (program = null) => {
      if (!work.value || planner.busy) return;
      foreign.value = program;
      foreignProof.value = null;
      stopped.value = false;
      // What is known of the plan's own programs stays known.
      if (program === null && proof.value && handwork.value) return;
      prover = fresh(prover, 0);
      prove();
    },
    take,
    silent,
    again: () => {
      // What is silent may never answer: both are begun anew.
      planner.spent = true;
      prover.spent = true;
      if (newest) take(newest.source, newest.machine);
    },
    expect: () => {
      progress.value = 'Planning …';
    },
    rest: () => {
      proving.value = null;
      stopped.value = false;
      foreign.value = null;
      newest = null;
      ticket++;
      planner = fresh(planner);
      planner.busy = false;
      leaveProof();
      layerBusy = false;
      failure.value = null;
      progress.value = null;
      work.value = null;
      programs.value = [];
      sections.value = [];
      layer.value = null;
      proof.value = null;
      handwork.value = null;
    },
    cutAlong: (line) => {
      cut = line;
      if (work.value && !planner.busy) send(planner, { kind: 'film', ticket, cut: line });
    },
    showLayer: (still) => {
      layerWanted = still;
      askLayer();
    },
  };
};

const sameCut = (a: CutLine, b: CutLine): boolean =>
  a.from.x === b.from.x && a.from.y === b.from.y && a.to.x === b.to.x && a.to.y === b.to.y;
