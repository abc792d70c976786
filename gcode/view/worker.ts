import type { Part } from '../../sketch/part/part.ts';
import { solidOf } from '../../sketch/part/solid.ts';
import { planMemory } from '../../toolpath/passes/plan-memory.ts';
import { type Cut, type Film, filmKeeper } from '../../toolpath/removal/film.ts';
import { barMap, chooseCell, type HeightMap } from '../../toolpath/removal/height-map.ts';
import { sectionStill, stockPicture, webMask, websStanding } from '../../toolpath/view/film-pictures.ts';
import { type Still, stillsOf } from '../../toolpath/view/work.ts';
import { planPart, proofInput, writePrograms } from '../chain.ts';
import { proofMemory } from '../proof/proof-memory.ts';
import { proveInSteps } from '../proof/prove.ts';
import type { Motion } from '../reading/motion.ts';
import { readProgram } from '../reading/read.ts';
import { handworkOf } from '../sheet/handwork.ts';
import type { Answer, Ask } from './messages.ts';
import { linesOf, motionsByPass } from './pass-lines.ts';

/** What the worker keeps of the part it planned last, to answer questions about its passes. */
interface Bench {
  readonly ticket: number;
  readonly part: Part;
  readonly stills: readonly Still[];
  /** Motions of each pass as read back from the written programs. */
  readonly motions: readonly (readonly Motion[])[];
  readonly film: Film;
  readonly mask: Uint8Array;
  readonly standing: readonly number[];
}

/** Job steps, frames and proven passes of the states before: an edit is planned, cut and proven anew only where it tells. */
const memory = planMemory();
const films = filmKeeper();
const proofs = proofMemory();

let bench: Bench | null = null;
/** The film that was asked for last; an older one stops between two passes. */
let filmAsked = 0;

const answer = (a: Answer, transfer: Transferable[] = []): void => self.postMessage(a, { transfer });

/** Lets waiting messages in. */
const breathe = (): Promise<void> => new Promise((done) => setTimeout(done));

self.onmessage = async (event: MessageEvent<Ask>): Promise<void> => {
  const ask = event.data;
  try {
    switch (ask.kind) {
      case 'plan':
        await plan(ask);
        break;
      case 'film':
        await showFilm(ask);
        break;
      case 'layer':
        showLayer(ask);
        break;
      case 'leave':
        proofAsked++;
        break;
      case 'prove':
        await answerProof(ask);
        break;
    }
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    answer({ kind: 'failed', ticket: ask.ticket, message: why });
  }
};

/** The plan that was asked for last; an older one goes no further than its passes. */
let planAsked = 0;

const plan = async (ask: Extract<Ask, { kind: 'plan' }>): Promise<void> => {
  const mine = ++planAsked;
  const planned = planPart(ask.source, { profile: ask.machine, memory });
  if (!planned.ok) throw new Error(planned.findings[0]?.message ?? 'the part cannot be read');
  answer({ kind: 'planned', ticket: ask.ticket, planned });
  await breathe();
  if (mine !== planAsked) return;
  const { part, plan: made, profile } = planned;
  // The passes of a plan with errors are shown as well, by the same text, but that text is not for taking away.
  const programs = writePrograms(part, made, profile);
  const readings = programs.map((program) => readProgram(program.text));
  const motions = made.setups.flatMap((setup, i) => motionsByPass(setup, readings[i]!));
  const stills = stillsOf(made);
  const cuts = stills.map((still, i) =>
    (motions[i] ?? []).map(
      (stroke): Cut => ({ stroke, cutter: still.step.cutter, frame: still.setup.frame }),
    ),
  );
  const solid = solidOf(part);
  const map = barMap(part.bar, Math.max(LEAST_CELL, chooseCell(part.bar, solid)));
  bench = {
    ticket: ask.ticket,
    part,
    stills,
    motions,
    film: films.film(map, cuts),
    mask: webMask(map, part, solid, made),
    standing: websStanding(made),
  };
  // Said last: from here on questions about the passes can be answered.
  answer({
    kind: 'written',
    ticket: ask.ticket,
    programs: programs.map((program, i) => ({ ...program, lines: linesOf(readings[i]!) })),
  });
};

/** Finest cell of the pictures, mm; the proof chooses its own. */
const LEAST_CELL = 0.1;

/** Passes shown in one answer: the strip fills as it is worked out. */
const SHEAF = 8;

const showFilm = async (ask: Extract<Ask, { kind: 'film' }>): Promise<void> => {
  const mine = ++filmAsked;
  const b = bench;
  if (!b || b.ticket !== ask.ticket) return;
  for (let first = 0; first < b.stills.length; first += SHEAF) {
    const stills = [];
    for (let i = first; i < Math.min(first + SHEAF, b.stills.length); i++) {
      stills.push(sectionStill(b.film.at(i + 1), ask.cut, b.mask, b.standing[i] ?? 0));
    }
    answer({ kind: 'film', ticket: ask.ticket, cut: ask.cut, first, stills });
    await breathe();
    if (mine !== filmAsked || bench !== b) return;
  }
};

const showLayer = (ask: Extract<Ask, { kind: 'layer' }>): void => {
  const b = bench;
  const still = b?.stills[ask.still];
  if (!b || b.ticket !== ask.ticket || !still) return;
  const map: HeightMap = b.film.at(ask.still + 1);
  const stock = stockPicture(
    map,
    still.setup.frame.face,
    b.part.bar.thickness,
    b.mask,
    b.standing[ask.still] ?? 0,
  );
  answer(
    {
      kind: 'layer',
      ticket: ask.ticket,
      layer: { still: ask.still, motions: b.motions[ask.still] ?? [], stock },
    },
    [stock.cells.buffer as ArrayBuffer],
  );
};

/** How often the page is told how far the proof is, ms. */
const TELL_EVERY = 100;

/** The proof that was asked for last; an older one stops at its next breath. */
let proofAsked = 0;

const answerProof = async (ask: Extract<Ask, { kind: 'prove' }>): Promise<void> => {
  const mine = ++proofAsked;
  const { part, plan: made, profile } = ask.planned;
  const { ticket } = ask;
  // Whoever asked may have asked anew meanwhile.
  await breathe();
  if (mine !== proofAsked) return;
  const steps = proveInSteps(proofInput(part, made, ask.programs, profile), proofs);
  let told = performance.now();
  let step = steps.next();
  for (; !step.done; step = steps.next()) {
    if (performance.now() - told < TELL_EVERY) continue;
    answer({ kind: 'proving', ticket, share: step.value.share });
    await breathe();
    if (mine !== proofAsked) return;
    told = performance.now();
  }
  answer({ kind: 'proven', ticket, proof: step.value });
  await breathe();
  if (mine !== proofAsked) return;
  const { proof, sound } = handworkOf(ask.planned);
  answer({ kind: 'by hand', ticket, handwork: { proof, sound } });
};
