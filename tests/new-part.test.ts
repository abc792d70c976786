import { expect, test } from 'vitest';
import { newDocument } from '../sketch/draft/new-part.ts';
import { checkPart } from '../sketch/part/checks.ts';
import { readPart } from '../sketch/part/document.ts';

test.each([
  ['mm', { length: 80, width: 20, thickness: 6 }],
  ['inch', { length: 76.2, width: 19.05, thickness: 6.35 }],
] as const)('an empty part in %s is a bar with nothing drawn in it', (unit, bar) => {
  const reading = readPart(newDocument(unit, ' My  lever '));
  if (!reading.ok) throw new Error(reading.findings[0]?.message);
  expect(reading.part.name).toBe('My lever');
  expect(reading.part.unit).toBe(unit);
  for (const side of ['length', 'width', 'thickness'] as const) {
    expect(reading.part.bar[side]).toBeCloseTo(bar[side], 9);
  }
  expect(reading.part.bar.corner.x).toBe(0);
  expect(reading.part.bar.corner.y).toBeCloseTo(-bar.width / 2, 9);
  expect(checkPart(reading.part).map((f) => f.code)).toEqual(['no-outline']);
});

test('any text will do for a name', () => {
  for (const name of ['', '  ', '\n', 'x'.repeat(1000)]) {
    expect(readPart(newDocument('mm', name)).ok).toBe(true);
  }
});
