import type jsep from 'jsep';
import { type Formula, isGrouped } from './formula.ts';
import { plain } from './units.ts';

/** A formula as plain data, with its signs where mathematics puts them: −a^b is the negative of a^b. */
export type Term =
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'name'; readonly name: string }
  | { readonly kind: 'pi' }
  | { readonly kind: 'minus'; readonly of: Term }
  | {
      readonly kind: 'two';
      readonly sign: '+' | '-' | '*' | '/' | '^';
      readonly left: Term;
      readonly right: Term;
    }
  | { readonly kind: 'call'; readonly routine: string; readonly values: readonly Term[] };

/** A formula's tree, or null when it holds something that is never worked out. */
export const termOf = (formula: Formula): Term | null => read(formula.tree);

const read = (expression: jsep.Expression): Term | null => {
  const node = expression as jsep.CoreExpression;
  switch (node.type) {
    case 'Literal':
      return typeof node.value === 'number' ? { kind: 'number', value: node.value } : null;
    case 'Identifier':
      return node.name === 'pi' ? { kind: 'pi' } : { kind: 'name', name: node.name };
    case 'UnaryExpression': {
      const of = read(node.argument);
      if (of === null || node.operator === '+') return of;
      return node.operator === '-' ? { kind: 'minus', of } : null;
    }
    case 'BinaryExpression':
      return two(node);
    case 'CallExpression': {
      const callee = node.callee as jsep.CoreExpression;
      const values = node.arguments.map(read).filter((v) => v !== null);
      if (callee.type !== 'Identifier' || values.length < node.arguments.length) return null;
      return { kind: 'call', routine: callee.name, values };
    }
    default:
      return null;
  }
};

const SIGNS = { '+': '+', '-': '-', '*': '*', '/': '/', '^': '^', '**': '^' } as const;

const two = (node: jsep.BinaryExpression): Term | null => {
  const sign = SIGNS[node.operator as keyof typeof SIGNS];
  const base = node.left as jsep.CoreExpression;
  // In mathematics −a^b is −(a^b); the reader binds the sign first.
  if (sign === '^' && base.type === 'UnaryExpression' && !isGrouped(base)) {
    const power = two({ ...node, left: base.argument });
    return power === null || base.operator === '+' ? power : { kind: 'minus', of: power };
  }
  const left = read(node.left);
  const right = read(node.right);
  return sign === undefined || left === null || right === null ? null : { kind: 'two', sign, left, right };
};

/** How tightly a term holds together: what is looser than its place wants needs parentheses. */
const tightness = (term: Term): number => {
  switch (term.kind) {
    case 'two':
      return { '+': 1, '-': 1, '*': 2, '/': 2, '^': 4 }[term.sign];
    case 'minus':
      return 3;
    case 'number':
      return term.value < 0 ? 3 : 5;
    case 'name':
    case 'pi':
    case 'call':
      return 5;
  }
};

/** A tree as the text of a formula, numbers to six decimals, with no more parentheses than are needed. */
export const termText = (term: Term): string => {
  const within = (inner: Term, least: number): string =>
    tightness(inner) < least ? `(${termText(inner)})` : termText(inner);
  switch (term.kind) {
    case 'number':
      return plain(term.value, 6);
    case 'name':
      return term.name;
    case 'pi':
      return 'pi';
    case 'minus':
      return `-${within(term.of, 4)}`;
    case 'call':
      return `${term.routine}(${term.values.map(termText).join(', ')})`;
    case 'two': {
      const { sign, left, right } = term;
      switch (sign) {
        case '+':
        case '-':
          return `${within(left, 1)} ${sign} ${within(right, 2)}`;
        case '*':
        case '/':
          return `${within(left, 2)}${sign}${within(right, 4)}`;
        case '^':
          return `${within(left, 5)}^${within(right, 5)}`;
      }
    }
  }
};
