import type { CutLine } from '../../sketch/canvas/section.ts';
import type { MachineProfile } from '../../toolpath/machine/profile.ts';
import type { SectionStill, StockPicture } from '../../toolpath/view/film-pictures.ts';
import type { PlannedPart, ProgramFile } from '../chain.ts';
import type { Proof } from '../proof/proof.ts';
import type { Motion } from '../reading/motion.ts';
import type { Handwork } from '../sheet/handwork.ts';

/**
 * What the page asks of a worker. Every question bears the ticket of the part's state it belongs to; answers carry it
 * back, and those of an older ticket are dropped.
 */
export type Ask =
  /** Plan, write and lay out the passes of a part, given as its file's text, for a machine. */
  | {
      readonly kind: 'plan';
      readonly ticket: number;
      readonly source: string;
      readonly machine: MachineProfile;
    }
  /** Every pass's section along a line. */
  | { readonly kind: 'film'; readonly ticket: number; readonly cut: CutLine }
  /** One pass's moves and the stock after it. */
  | { readonly kind: 'layer'; readonly ticket: number; readonly still: number }
  /** Leave the proof that is under way. */
  | { readonly kind: 'leave'; readonly ticket: number }
  /** Prove the written programs. */
  | {
      readonly kind: 'prove';
      readonly ticket: number;
      readonly planned: PlannedPart;
      readonly programs: readonly ProgramFile[];
    };

/** A setup's program, and which of its lines make which pass. */
export interface Program extends ProgramFile {
  /** For each pass of the setup in order: its first and last line, from 1. */
  readonly lines: readonly { readonly first: number; readonly last: number }[];
}

export interface Layer {
  readonly still: number;
  readonly motions: readonly Motion[];
  readonly stock: StockPicture;
}

export type Answer =
  | { readonly kind: 'planned'; readonly ticket: number; readonly planned: PlannedPart }
  | { readonly kind: 'written'; readonly ticket: number; readonly programs: readonly Program[] }
  | {
      readonly kind: 'film';
      readonly ticket: number;
      readonly cut: CutLine;
      readonly first: number;
      readonly stills: readonly SectionStill[];
    }
  | { readonly kind: 'layer'; readonly ticket: number; readonly layer: Layer }
  /** How far the proof is, 0 to 1. */
  | { readonly kind: 'proving'; readonly ticket: number; readonly share: number }
  | { readonly kind: 'proven'; readonly ticket: number; readonly proof: Proof }
  /** The coordinate table proven by doing what its text says. */
  | {
      readonly kind: 'by hand';
      readonly ticket: number;
      readonly handwork: Pick<Handwork, 'proof' | 'sound'>;
    }
  | { readonly kind: 'failed'; readonly ticket: number; readonly message: string };
