import { describe, expect, test } from 'vitest';
import {
  areaText,
  lengthText,
  placeFigure,
  smallFigure,
  smallText,
  volumeText,
} from '../sketch/part/units.ts';

/** 1 in = 25.4 mm exactly (international yard and pound agreement of 1959). */

describe('Lengths as people read them', () => {
  test('movements: thousandths of a mm, ten-thousandths of an inch, never nought of what is more', () => {
    expect(smallText(0.0047, 'mm')).toBe('0.0047 mm');
    expect(smallText(0.047, 'mm')).toBe('0.047 mm');
    expect(smallText(0.00002, 'mm')).toBe('less than 0.0001 mm');
    expect(smallText(0, 'mm')).toBe('0.0000 mm');
    expect(smallText(0.0508, 'inch')).toBe('0.0020 in');
    expect(smallText(0.0012, 'inch')).toBe('less than 0.0001 in');
    expect(smallText(0.0013, 'inch')).toBe('0.0001 in');
  });

  test('in tables always with the same decimals, and no minus before nought', () => {
    expect([0.0047, 0.3, -0.0001].map((mm) => smallFigure(mm, 'mm'))).toEqual(['0.005', '0.300', '0.000']);
    expect([0.0047, 0.3, -0.0001].map((mm) => smallFigure(mm, 'inch'))).toEqual([
      '0.0002',
      '0.0118',
      '0.0000',
    ]);
  });

  test('places, areas and volumes', () => {
    expect([placeFigure(12.34, 'mm'), placeFigure(12.34, 'inch'), placeFigure(-0.01, 'inch')]).toEqual([
      '12.3',
      '0.49',
      '0.00',
    ]);
    expect(areaText(2.4, 'mm')).toBe('2.4 mm²');
    expect(areaText(2.4, 'inch')).toBe('0.0037 in²');
    expect(volumeText(12.3, 'mm')).toBe('12 mm³');
    expect(volumeText(16.387064, 'inch')).toBe('0.001 in³');
    expect(lengthText(0.02, 'inch')).toBe('0.0008 in');
  });
});
