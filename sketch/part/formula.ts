import jsep from 'jsep';
import { nearestName, quoted } from './names.ts';

/**
 * Formulas over a part's named dimensions.
 *
 * Numbers, + − * / and ^ (or **), parentheses, `pi`, names, and the functions sqrt, abs, min, max, sin, cos, tan.
 * Angles are in degrees. jsep gives the tree; only the kinds of node named here are worked out, all else is refused.
 * Nothing is ever run as code.
 */
export type Worked<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly message: string };

/** Longest formula that is read, in characters. */
const LONGEST = 400;

interface Routine {
  readonly least: number;
  readonly most: number;
  readonly work: (...values: number[]) => number;
}

const inDegrees =
  (f: (angle: number) => number) =>
  (angle: number): number =>
    f((angle * Math.PI) / 180);

const ROUTINES: ReadonlyMap<string, Routine> = new Map([
  ['sqrt', { least: 1, most: 1, work: Math.sqrt }],
  ['abs', { least: 1, most: 1, work: Math.abs }],
  ['sin', { least: 1, most: 1, work: inDegrees(Math.sin) }],
  ['cos', { least: 1, most: 1, work: inDegrees(Math.cos) }],
  ['tan', { least: 1, most: 1, work: inDegrees(Math.tan) }],
  ['min', { least: 1, most: Number.POSITIVE_INFINITY, work: Math.min }],
  ['max', { least: 1, most: Number.POSITIVE_INFINITY, work: Math.max }],
]);

/** What formulas know already, and three keys that an object of names cannot hold safely. */
const WORDS_TAKEN = new Set([
  ...ROUTINES.keys(),
  ...['pi', 'true', 'false', 'null', 'this'],
  ...['__proto__', 'constructor', 'prototype'],
]);

/** Whether a dimension may bear this name: a letter or underscore, then letters, digits, underscores, at most 40. */
export const isDimensionName = (name: string): boolean =>
  /^[A-Za-z_\u00aa-\uffff][A-Za-z0-9_\u00aa-\uffff]{0,39}$/.test(name) &&
  /^[\p{L}_][\p{L}\p{N}_]*$/u.test(name) &&
  !WORDS_TAKEN.has(name);

// jsep knows ** already; ^ is read the same way. A group is marked, so that −2^2 and (−2)^2 are told apart.
jsep.addBinaryOp('^', 11, true);
const grouped = new WeakSet<object>();
jsep.hooks.add('gobble-token', function (env) {
  if (this.code !== 40) return;
  const group = this.gobbleGroup() as jsep.Expression | false;
  if (group === false) this.throwError('nothing stands between the parentheses');
  grouped.add(group);
  env.node = group;
});

/** Whether a part of a formula's tree stood in parentheses. */
export const isGrouped = (node: object): boolean => grouped.has(node);

class FormulaFault extends Error {}

const fail = (message: string): never => {
  throw new FormulaFault(message);
};

/** A formula read into a tree, not yet worked out. */
export interface Formula {
  readonly text: string;
  readonly tree: jsep.CoreExpression;
}

/** Read a formula; the message says what is wrong with it. */
export const parseFormula = (text: string): Worked<Formula> => {
  if (text.length > LONGEST)
    return { ok: false, message: `the formula is longer than ${LONGEST} characters` };
  const plain = text
    .replace(/[−–]/g, '-')
    .replace(/[×·]/g, '*')
    .replace(/÷/g, '/')
    .replace(/π/g, 'pi')
    .trim();
  if (plain === '') return { ok: false, message: 'the formula is empty' };
  if (/(?<![\p{L}\p{N}_.])[\d.]+\s*(?:mm|cm|in|inch|["″′°])(?![\p{L}\p{N}_])/u.test(plain)) {
    return {
      ok: false,
      message: `leave the unit out of ${quoted(text)}: the file's unit holds for every length`,
    };
  }
  if (/^[+-]?\d+,\d+$/.test(plain)) {
    return { ok: false, message: `write ${quoted(text)} with a decimal point` };
  }
  if (/[\p{L}\p{N}_.)]\s+[\p{L}\p{N}_.]/u.test(plain)) {
    return {
      ok: false,
      message: `two values stand side by side in ${quoted(text)} without a sign between them`,
    };
  }
  try {
    return { ok: true, value: { text, tree: jsep(plain) as jsep.CoreExpression } };
  } catch (error) {
    return { ok: false, message: `the formula ${quoted(text)} cannot be read${whyOf(error)}` };
  }
};

/** What the parser stumbled over, in a reader's words; nothing where it has none. */
const STUMBLES: readonly (readonly [RegExp, (found: string) => string])[] = [
  [/^Unexpected "(.+?)" at/, (c) => `“${c}” does not belong where it stands`],
  [/^Unexpected period at/, () => 'a point stands where none belongs'],
  [/^Expected expression after (\S+) at/, (c) => `nothing stands after “${c}”`],
  [/^Unclosed \(/, () => 'a bracket is not closed'],
  [/^Expected \)/, () => 'a bracket is not closed'],
  [/^Variable names cannot start with a number \((.+?)\)/, (c) => `“${c}” is neither a number nor a name`],
];

const whyOf = (error: unknown): string => {
  const said = error instanceof Error ? error.message : '';
  for (const [pattern, words] of STUMBLES) {
    const found = pattern.exec(said);
    if (found) return `: ${words(found[1] ?? '')}`;
  }
  return '';
};

/**
 * Work a formula out. `look` gives a name's value, null when there is no such name; `known` are the names offered
 * in the message then. The value is finite or the result is a message.
 */
export const evaluateFormula = (
  formula: Formula,
  look: (name: string) => number | null,
  known: Iterable<string> = [],
): Worked<number> => {
  const names = [...known];
  const work = (node: jsep.CoreExpression): number => {
    switch (node.type) {
      case 'Literal':
        return typeof node.value === 'number'
          ? node.value
          : fail(`${quoted(String(node.raw))} is not a number`);
      case 'Identifier':
        return name(node.name);
      case 'UnaryExpression':
        if (node.operator === '-') return -work(inner(node.argument));
        if (node.operator === '+') return work(inner(node.argument));
        return fail(`the sign ${node.operator} has no meaning in a formula`);
      case 'BinaryExpression':
        return binary(node);
      case 'CallExpression':
        return call(node);
      case 'Compound':
      case 'SequenceExpression':
        return fail('it holds more than one value');
      default:
        return fail('it holds something other than arithmetic');
    }
  };
  const inner = (node: jsep.Expression): jsep.CoreExpression => node as jsep.CoreExpression;
  const name = (id: string): number => {
    if (id === 'pi') return Math.PI;
    if (ROUTINES.has(id)) return fail(`${id} needs its value in parentheses, e.g. ${id}(2)`);
    const value = look(id);
    if (value !== null) return value;
    const near = nearestName(id, [...names, ...ROUTINES.keys(), 'pi']);
    return fail(
      `there is no dimension named ${quoted(id)}${near === null ? '' : `; did you mean ${quoted(near)}?`}`,
    );
  };
  const binary = (node: jsep.BinaryExpression): number => {
    const power = node.operator === '^' || node.operator === '**';
    const left = inner(node.left);
    // In mathematics −a^b is −(a^b); jsep binds the sign first.
    if (power && left.type === 'UnaryExpression' && !grouped.has(left)) {
      const base = inner(left.argument);
      const value = work({ ...node, left: base });
      return left.operator === '-' ? -value : value;
    }
    const a = work(left);
    const b = work(inner(node.right));
    switch (node.operator) {
      case '+':
        return a + b;
      case '-':
        return a - b;
      case '*':
        return a * b;
      case '/':
        return b === 0 ? fail('it divides by nought') : a / b;
      case '^':
      case '**':
        return a ** b;
      default:
        return fail(`the sign ${node.operator} has no meaning in a formula`);
    }
  };
  const call = (node: jsep.CallExpression): number => {
    const callee = inner(node.callee);
    const id = callee.type === 'Identifier' ? callee.name : fail('it holds something other than arithmetic');
    const routine = ROUTINES.get(id);
    if (routine === undefined) {
      const near = nearestName(id, ROUTINES.keys());
      return fail(
        `there is no function ${quoted(id)}; ` +
          (near === null ? `there are ${[...ROUTINES.keys()].join(', ')}` : `did you mean ${quoted(near)}?`),
      );
    }
    const values = node.arguments.map((a) => work(inner(a)));
    if (values.length < routine.least || values.length > routine.most) {
      return fail(
        `${id} takes ${routine.most === 1 ? 'one value' : 'one value or more'}, not ${values.length}`,
      );
    }
    return routine.work(...values);
  };
  try {
    const value = work(formula.tree);
    if (!Number.isFinite(value))
      return { ok: false, message: `${quoted(formula.text)} does not give a finite number` };
    return { ok: true, value };
  } catch (error) {
    if (error instanceof FormulaFault)
      return { ok: false, message: `in ${quoted(formula.text)}: ${error.message}` };
    return { ok: false, message: `the formula ${quoted(formula.text)} cannot be worked out` };
  }
};

/** The names a formula leans on. */
export const namesIn = (formula: Formula): ReadonlySet<string> => {
  const found = new Set<string>();
  const visit = (value: unknown): void => {
    if (Array.isArray(value)) value.forEach(visit);
    else if (typeof value === 'object' && value !== null) {
      const node = value as jsep.CoreExpression;
      if (node.type === 'Identifier') found.add(node.name);
      else Object.values(node).forEach(visit);
    }
  };
  visit(formula.tree);
  for (const routine of ROUTINES.keys()) found.delete(routine);
  found.delete('pi');
  return found;
};
