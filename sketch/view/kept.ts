import type { Placement } from '../draft/tracing.ts';
import type { Subject } from './underlay.ts';

/** A part as a window keeps it in the browser, under the window's own key. */
export interface KeptPart {
  readonly format: typeof KEPT_FORMAT;
  readonly version: number;
  /** The part file's text. */
  readonly text: string;
  readonly name: string;
  /** Whether it differed from what lies in a file. */
  readonly unsaved: boolean;
  /** When, ms since 1970. */
  readonly at: number;
}

export const KEPT_FORMAT = 'leverwright-kept';
export const KEPT_VERSION = 1;

/** What is kept of one window: its part, the picture under it, and the file it saves to. */
export const KEYS = {
  part: (place: string) => `part:${place}`,
  subject: (place: string) => `under:${place}`,
  placement: (place: string) => `under-at:${place}`,
  file: (place: string) => `file:${place}`,
  aside: (key: string) => `aside:${key}`,
} as const;

export type KeptReading =
  | { readonly kind: 'sound'; readonly kept: KeptPart }
  | { readonly kind: 'newer'; readonly version: number }
  | { readonly kind: 'broken' };

/** Whether a kept part is one that can be brought back here. Never throws. */
export const readKept = (value: unknown): KeptReading => {
  if (typeof value !== 'object' || value === null) return { kind: 'broken' };
  const v = value as Partial<Record<keyof KeptPart, unknown>>;
  if (v.format !== KEPT_FORMAT || typeof v.version !== 'number') return { kind: 'broken' };
  if (v.version > KEPT_VERSION) return { kind: 'newer', version: v.version };
  const sound =
    typeof v.text === 'string' &&
    typeof v.name === 'string' &&
    typeof v.unsaved === 'boolean' &&
    typeof v.at === 'number' &&
    Number.isFinite(v.at);
  return sound ? { kind: 'sound', kept: value as KeptPart } : { kind: 'broken' };
};

export const isSubject = (value: unknown): value is Subject => {
  if (typeof value !== 'object' || value === null) return false;
  const v = value as { kind?: unknown; name?: unknown; picture?: unknown; lines?: unknown };
  if (typeof v.name !== 'string') return false;
  return v.kind === 'picture' ? v.picture instanceof Blob : v.kind === 'lines' && Array.isArray(v.lines);
};

export const isPlacement = (value: unknown): value is Placement => {
  if (typeof value !== 'object' || value === null) return false;
  const v = value as {
    middle?: { x?: unknown; y?: unknown };
    scale?: unknown;
    turn?: unknown;
    strength?: unknown;
  };
  return [v.middle?.x, v.middle?.y, v.scale, v.turn, v.strength].every(
    (n) => typeof n === 'number' && Number.isFinite(n),
  );
};

/** When something was left, as people say it: `at 14:05`, or with the day when that was another. */
export const whenText = (at: number, now: number): string => {
  const time = new Date(at).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  if (new Date(at).toDateString() === new Date(now).toDateString()) return `at ${time}`;
  const day = new Date(at).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
  return `on ${day} at ${time}`;
};
