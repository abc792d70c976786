import { readFileSync } from 'node:fs';
import { readPart } from '../sketch/part/document.ts';
import type { Part } from '../sketch/part/part.ts';

/** Every part file that comes with the program. */
export const SAMPLES = [
  'vent-latch-lever',
  'winch-bell-crank',
  'shutter-link',
  'bellows-lever',
  'damper-yoke',
] as const;

export const sampleText = (name: string): string =>
  readFileSync(new URL(`../samples/${name}.json`, import.meta.url), 'utf8');

export const samplePart = (name: string): Part => {
  const read = readPart(sampleText(name));
  if (!read.ok) throw new Error(read.findings.map((f) => f.message).join(' '));
  return read.part;
};
