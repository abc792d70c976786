import { describe, expect, test } from 'vitest';
import { sizeText } from '../sketch/draft/stroke.ts';
import { typedNumber, typedQuantity } from '../sketch/draft/typed.ts';
import { plain } from '../sketch/part/units.ts';

/** Figures as they are typed into the page's fields, and as they are read there. */

describe('what is typed', () => {
  test.each([
    ['12.5', 12.5, 12.5],
    ['12,5', 12.5, 12.5],
    ['-,5', -0.5, -0.5],
    ['3/8', '3/8', 0.375],
    // Whole inches and a fraction, as on any drawing in inches.
    ['1 3/4', '1 + 3/4', 1.75],
    ['-1 3/4', '-(1 + 3/4)', -1.75],
    [' 2  1/16 ', '2 + 1/16', 2.0625],
    ['25.4/2', '25.4/2', 12.7],
    // A formula over names is kept as it stands, and is no number without them.
    ['length / 2', 'length / 2', null],
    ['', null, null],
    ['1 2', '1 2', null],
    ['NaN', 'NaN', null],
    ['1/0', '1/0', null],
    ['ten', 'ten', null],
  ])('%s', (text, quantity, number) => {
    expect(typedQuantity(text)).toEqual(quantity);
    expect(typedNumber(text)).toEqual(number);
  });
});

describe('what is read while one draws', () => {
  const size = { key: 'radius', label: 'radius', fixed: false };
  test('the pencil says what can be set; what was typed stands as it was typed', () => {
    expect(sizeText({ ...size, value: 1.900863 }, 'inch')).toBe('1.9009');
    expect(sizeText({ ...size, value: 48.281917 }, 'mm')).toBe('48.28');
    expect(sizeText({ ...size, key: 'angle', value: 9.462322 }, 'inch')).toBe('9.46');
    expect(sizeText({ ...size, fixed: true, value: 1.900863 }, 'inch')).toBe('1.900863');
    expect(sizeText({ ...size, value: 'centres / 2' }, 'mm')).toBe('centres / 2');
  });

  test('a half at the last place is the same whichever unit it came through', () => {
    expect(plain(0.09375, 4)).toBe('0.0938');
    expect(plain((0.09375 * 25.4) / 25.4, 4)).toBe('0.0938');
    expect(plain(-0.00001, 4)).toBe('0');
  });
});
