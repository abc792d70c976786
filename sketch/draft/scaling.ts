import { parseFormula } from '../part/formula.ts';
import { type Term, termOf } from '../part/formula-tree.ts';

/**
 * How a value grows with the part: with this power of the scale. 1 for a length, 0 for an angle, a count or a share, 2
 * for an area. Bare numbers are `free`: they can be read as anything.
 */
export type Power = number | 'free';

/** The powers of the named dimensions, as far as they are known. */
export type Powers = ReadonlyMap<string, number>;

/** A formula's tree, or null when it cannot be read. */
export const treeOf = (text: string): Term | null => {
  const formula = parseFormula(text);
  return formula.ok ? termOf(formula.value) : null;
};

/** The power of a term, null where it has none (a length and an area added) or where it is not known yet. */
export const powerOf = (term: Term, powers: Powers): Power | null => {
  const of = (inner: Term): Power | null => powerOf(inner, powers);
  switch (term.kind) {
    case 'number':
    case 'pi':
      return 'free';
    case 'name':
      return powers.get(term.name) ?? null;
    case 'minus':
      return of(term.of);
    case 'call':
      if (ANGULAR.has(term.routine)) return 0;
      return term.routine === 'sqrt' ? times(common(term.values.map(of)), 0.5) : common(term.values.map(of));
    case 'two': {
      const [left, right] = [of(term.left), of(term.right)];
      switch (term.sign) {
        case '+':
        case '-':
          return common([left, right]);
        case '*':
          return together(left, right, 1);
        case '/':
          return together(left, right, -1);
        case '^':
          return right === 'free'
            ? times(left, constantOf(term.right))
            : left === 0 || left === 'free'
              ? 0
              : null;
      }
    }
  }
};

const ANGULAR: ReadonlySet<string> = new Set(['sin', 'cos', 'tan']);

const times = (power: Power | null, factor: number | null): Power | null =>
  typeof power === 'number' && factor !== null ? power * factor : power === 'free' ? 'free' : null;

/** The power that terms of a sum have in common; bare numbers go with the others. */
const common = (powers: readonly (Power | null)[]): Power | null => {
  const known = powers.filter((p) => p !== 'free');
  return known.length === 0 ? 'free' : known.every((p) => p === known[0]) ? known[0]! : null;
};

const together = (left: Power | null, right: Power | null, sign: 1 | -1): Power | null => {
  if (left === null || right === null) return null;
  if (left === 'free') return right === 'free' ? 'free' : sign * right;
  return right === 'free' ? left : left + sign * right;
};

/** The value of a term without names, null where it has names or none. */
const constantOf = (term: Term): number | null => {
  switch (term.kind) {
    case 'number':
      return term.value;
    case 'minus': {
      const value = constantOf(term.of);
      return value === null ? null : -value;
    }
    case 'two': {
      const [a, b] = [constantOf(term.left), constantOf(term.right)];
      if (a === null || b === null) return null;
      return { '+': a + b, '-': a - b, '*': a * b, '/': a / b, '^': a ** b }[term.sign];
    }
    case 'pi':
      return Math.PI;
    case 'name':
    case 'call':
      return null;
  }
};

/**
 * What a term says of the names in it when it is to have a power: each name it is certain of, once, is told to `learn`.
 * In a product of a known and an unknown thing the unknown one makes up the rest; of two unknown ones nothing is learnt.
 */
export const learnFrom = (
  term: Term,
  power: number,
  powers: Powers,
  learn: (name: string, power: number) => void,
): void => {
  const to = (inner: Term, wanted: number): void => learnFrom(inner, wanted, powers, learn);
  switch (term.kind) {
    case 'number':
    case 'pi':
      return;
    case 'name':
      learn(term.name, power);
      return;
    case 'minus':
      to(term.of, power);
      return;
    case 'call':
      for (const value of term.values) {
        to(value, ANGULAR.has(term.routine) ? 0 : term.routine === 'sqrt' ? 2 * power : power);
      }
      return;
    case 'two': {
      const { sign, left, right } = term;
      const [l, r] = [powerOf(left, powers), powerOf(right, powers)];
      switch (sign) {
        case '+':
        case '-':
          to(left, power);
          to(right, power);
          return;
        case '*':
          if (l === 'free') to(right, power);
          else if (r === 'free') to(left, power);
          else if (l !== null) to(right, power - l);
          else if (r !== null) to(left, power - r);
          return;
        case '/':
          if (l === 'free') to(right, 0);
          else if (r === 'free') to(left, power);
          else if (l !== null) to(right, l - power);
          else if (r !== null) to(left, power + r);
          return;
        case '^': {
          const exponent = constantOf(right);
          if (exponent !== null && exponent !== 0) to(left, power / exponent);
          else if (exponent === null) to(right, 0);
          return;
        }
      }
    }
  }
};

/** Names that can only be angles or counts: in sin, cos and tan, and in exponents. */
export const learnAngles = (
  term: Term,
  powers: Powers,
  learn: (name: string, power: number) => void,
): void => {
  const to = (inner: Term): void => learnAngles(inner, powers, learn);
  switch (term.kind) {
    case 'number':
    case 'pi':
    case 'name':
      return;
    case 'minus':
      to(term.of);
      return;
    case 'call':
      for (const value of term.values) {
        if (ANGULAR.has(term.routine)) learnFrom(value, 0, powers, learn);
        to(value);
      }
      return;
    case 'two':
      if (term.sign === '^') learnFrom(term.right, 0, powers, learn);
      to(term.left);
      to(term.right);
      return;
  }
};

/**
 * The term at another scale: worked out over the scaled dimensions it comes to what it was, times the scale to that
 * power. Bare numbers take the scale on where they must; what needs no change is the same object. Null where no
 * sensible formula does it: a length that is a product of two.
 */
export const scaled = (term: Term, power: number, scale: number, powers: Powers): Term | null => {
  const at = (inner: Term, wanted: number): Term | null => scaled(inner, wanted, scale, powers);
  const own = powerOf(term, powers);
  if (own === power && term.kind !== 'two' && term.kind !== 'call' && term.kind !== 'minus') return term;
  switch (term.kind) {
    case 'number':
      return power === 0 ? term : { kind: 'number', value: term.value * scale ** power };
    case 'pi':
    case 'name':
      return own === 0 || own === 'free' ? enlarged(term, power, scale) : null;
    case 'minus': {
      const of = at(term.of, power);
      return of && (of === term.of ? term : { kind: 'minus', of });
    }
    case 'call': {
      const angular = ANGULAR.has(term.routine);
      const values = term.values.map((v) => at(v, angular ? 0 : term.routine === 'sqrt' ? 2 * power : power));
      const sound = values.filter((v) => v !== null);
      if (sound.length < values.length) return null;
      const call = sound.every((v, i) => v === term.values[i]) ? term : { ...term, values: sound };
      return angular ? enlarged(call, power, scale) : call;
    }
    case 'two':
      return scaledTwo(term, power, scale, powers);
  }
};

const scaledTwo = (
  term: Extract<Term, { kind: 'two' }>,
  power: number,
  scale: number,
  powers: Powers,
): Term | null => {
  const { sign, left, right } = term;
  const [l, r] = [powerOf(left, powers), powerOf(right, powers)];
  const pair = (leftPower: number, rightPower: number): Term | null => {
    const a = scaled(left, leftPower, scale, powers);
    const b = scaled(right, rightPower, scale, powers);
    if (a === null || b === null) return null;
    return a === left && b === right ? term : { ...term, left: a, right: b };
  };
  switch (sign) {
    case '+':
    case '-':
      return pair(power, power);
    case '*':
    case '/': {
      if (l === null || r === null) return null;
      const back = sign === '*' ? 1 : -1;
      // The bare numbers in a product take on what the rest does not.
      if (l === 'free') return pair(r === 'free' ? power : power - back * r, r === 'free' ? 0 : r);
      if (r === 'free') return sign === '*' ? pair(l, power - l) : pair(l, l - power);
      if (l + back * r === power) return pair(l, r);
      const same = l + back * r === 0 ? pair(l, r) : null;
      return same && enlarged(same, power, scale);
    }
    case '^': {
      const exponent = constantOf(right);
      if (exponent !== null && typeof l === 'number' && l * exponent === power) {
        const base = scaled(left, l, scale, powers);
        return base && (base === left ? term : { ...term, left: base });
      }
      const same = l === 0 || l === 'free' ? pair(0, 0) : null;
      return same && enlarged(same, power, scale);
    }
  }
};

/** A pure number that stands for a length, multiplied. */
const enlarged = (term: Term, power: number, scale: number): Term =>
  power === 0
    ? term
    : { kind: 'two', sign: '*', left: { kind: 'number', value: scale ** power }, right: term };
