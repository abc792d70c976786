import { type Quantity, workOut } from '../part/dimensions.ts';

/** Whole inches and a fraction as they are written on a drawing, `1 3/4`: no sign stands between them. */
const MIXED = /^([+-]?)(\d+)\s+(\d+\s*\/\s*\d+)$/;

/** As it is meant: a decimal comma is a point, and `1 3/4` is a sum. */
const meant = (text: string): string =>
  text
    .trim()
    .replace(/^([+-]?\d*),(\d+)$/, '$1.$2')
    .replace(MIXED, (_, sign: string, whole: string, fraction: string) =>
      sign === '-' ? `-(${whole} + ${fraction})` : `${whole} + ${fraction}`,
    );

/** What was typed as a quantity: a number, or a formula as it stands; null for nothing. */
export const typedQuantity = (text: string): Quantity | null => {
  const plain = meant(text);
  if (plain === '') return null;
  const number = Number(plain);
  return Number.isFinite(number) ? number : plain;
};

/** What was typed as a number, also where it must first be worked out like `3/8`; null when it is none. */
export const typedNumber = (text: string): number | null => {
  const quantity = typedQuantity(text);
  if (quantity === null) return null;
  const worked = workOut(quantity, new Map());
  return worked.ok ? worked.value : null;
};
