import { parseArgs } from 'node:util';
import * as v from 'valibot';
import { type FormChanges, FormSchema } from '../../toolpath/machine/profile-schema.ts';
import { LEAST_TOLERANCE } from '../../toolpath/route/document.ts';
import { FIT, type Terms } from '../chain.ts';
import { Failure } from './failure.ts';
import { PAPERS, type Paper } from './pdf.ts';

/** What a command line asks for. */
export type Request =
  | { readonly kind: 'help' }
  | { readonly kind: 'version' }
  | ({
      readonly kind: 'make';
      readonly out: string;
      readonly stiffness: boolean;
      /** Paper to print the sheets on as PDF; null for none. `auto` is A4 for mm, Letter for inches. */
      readonly pdf: Paper | 'auto' | null;
    } & Inputs)
  | ({
      readonly kind: 'prove';
      readonly program: string;
      readonly setup: number;
      readonly json: boolean;
    } & Inputs)
  | ({ readonly kind: 'check' } & Inputs);

/** The part, its dimensions set anew, and the machine. */
export interface Inputs {
  readonly part: string;
  readonly overrides: Readonly<Record<string, number>>;
  /** A machine file; null for the example machine. */
  readonly machine: string | null;
  /** How programs are written, over what the machine says. */
  readonly form: FormChanges;
  /** Most that the work may move and a pass leave on a finished wall or floor, mm; null for what the file says. */
  readonly movement: number | null;
  /** What still fits, mm. */
  readonly tolerance: NonNullable<Terms['tolerance']>;
}

const OPTIONS = {
  out: { type: 'string', multiple: true },
  set: { type: 'string', multiple: true },
  setup: { type: 'string', multiple: true },
  machine: { type: 'string', multiple: true },
  form: { type: 'string', multiple: true },
  gouge: { type: 'string', multiple: true },
  excess: { type: 'string', multiple: true },
  tolerance: { type: 'string', multiple: true },
  json: { type: 'boolean' },
  stiffness: { type: 'boolean' },
  pdf: { type: 'boolean' },
  paper: { type: 'string', multiple: true },
  help: { type: 'boolean', short: 'h' },
  version: { type: 'boolean', short: 'V' },
} as const;

type OptionName = keyof typeof OPTIONS;

/** Which options a command takes. */
const TAKES: Readonly<Record<'make' | 'prove' | 'check', readonly OptionName[]>> = {
  make: ['out', 'set', 'machine', 'form', 'gouge', 'excess', 'tolerance', 'stiffness', 'pdf', 'paper'],
  prove: ['setup', 'set', 'machine', 'form', 'gouge', 'excess', 'json'],
  check: ['set', 'machine'],
};

const HINT = 'try “leverwright --help”';

/** Read a command line (without the program's own name). Throws a Failure for one that cannot be followed. */
export const readArguments = (args: readonly string[]): Request => {
  const { values, positionals } = parsed(args);
  if (values.help) return { kind: 'help' };
  if (values.version) return { kind: 'version' };
  const [command, ...files] = positionals;
  if (command === undefined) throw new Failure(`no command given; ${HINT}`);
  if (command !== 'make' && command !== 'prove' && command !== 'check') {
    throw new Failure(`there is no command “${command}”; ${HINT}`);
  }
  for (const name of Object.keys(values) as OptionName[]) {
    if (!TAKES[command].includes(name)) throw new Failure(`“${command}” takes no --${name}; ${HINT}`);
  }
  const [part, program, ...rest] = files;
  if (part === undefined) throw new Failure(`“${command}” needs a part file; ${HINT}`);
  const surplus = command === 'prove' ? rest[0] : program;
  if (surplus !== undefined) throw new Failure(`“${surplus}” is one file too many for “${command}”; ${HINT}`);
  const inputs: Inputs = {
    part,
    overrides: Object.fromEntries((values.set ?? []).map(readOverride)),
    machine: once('machine', values.machine) ?? null,
    form: formOf(values.form ?? []),
    movement: readLength('tolerance', values.tolerance, LEAST_TOLERANCE, 1) ?? null,
    tolerance: {
      gouge: readLength('gouge', values.gouge) ?? FIT.gouge,
      excess: readLength('excess', values.excess) ?? FIT.excess,
    },
  };
  switch (command) {
    case 'make': {
      const out = once('out', values.out);
      if (out === undefined) throw new Failure(`“make” needs --out and a folder; ${HINT}`);
      return { kind: 'make', out, stiffness: values.stiffness ?? false, pdf: pdfOf(values), ...inputs };
    }
    case 'prove': {
      if (program === undefined)
        throw new Failure(`“prove” needs a program file after the part file; ${HINT}`);
      const setup = once('setup', values.setup);
      if (setup === undefined) throw new Failure(`“prove” needs --setup and the setup's number; ${HINT}`);
      if (!/^[1-9]\d{0,2}$/.test(setup)) throw new Failure(`--setup takes a setup's number, not “${setup}”`);
      return { kind: 'prove', program, setup: Number(setup), json: values.json ?? false, ...inputs };
    }
    case 'check':
      return { kind: 'check', ...inputs };
  }
};

/** Whether sheets are printed, and on what paper; naming a paper asks for it. */
const pdfOf = (values: {
  readonly pdf?: boolean;
  readonly paper?: readonly string[];
}): Paper | 'auto' | null => {
  const paper = once('paper', values.paper);
  if (paper === undefined) return values.pdf ? 'auto' : null;
  const found = PAPERS.find((p) => p.toLowerCase() === paper.toLowerCase());
  if (found === undefined) throw new Failure(`--paper takes ${PAPERS.join(' or ')}, not “${paper}”`);
  return found;
};

const parsed = (args: readonly string[]) => {
  try {
    return parseArgs({ args: [...args], options: OPTIONS, allowPositionals: true, strict: true });
  } catch (error) {
    // Node's own sentence may run on with advice about its own conventions; the first one says what is wrong.
    const why = error instanceof Error ? error.message : String(error);
    throw new Failure(`${why.split(/[.\n]/)[0]}; ${HINT}`);
  }
};

const once = (name: string, values: readonly string[] | undefined): string | undefined => {
  if (values === undefined) return undefined;
  if (values.length > 1) throw new Failure(`--${name} is given ${values.length} times`);
  if (values[0] === '') throw new Failure(`--${name} is empty`);
  return values[0];
};

/** The two halves of `name=value`. */
const pairOf = (option: string, text: string): readonly [string, string] => {
  const at = text.indexOf('=');
  const name = text.slice(0, at).trim();
  if (at < 1 || name === '') throw new Failure(`--${option} takes name=value, not “${text}”`);
  return [name, text.slice(at + 1).trim()];
};

/** A number in plain or scientific figures; null for anything else. */
const numberIn = (text: string): number | null =>
  /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,3})?$/i.test(text) ? Number(text) : null;

/** A named dimension, its value a number in the file's unit. */
const readOverride = (text: string): readonly [string, number] => {
  const [name, value] = pairOf('set', text);
  const number = numberIn(value);
  if (number === null) throw new Failure(`--set ${name}: “${value}” is not a number`);
  return [name, number];
};

const readLength = (
  option: 'gouge' | 'excess' | 'tolerance',
  values: readonly string[] | undefined,
  least = 0,
  most = 10,
): number | undefined => {
  const text = once(option, values);
  if (text === undefined) return undefined;
  const mm = numberIn(text);
  if (mm === null || mm <= 0 || mm < least || mm > most) {
    throw new Failure(
      `--${option} takes a length in mm, ${least > 0 ? `at least ${least}` : 'above 0'} and at most ${most}, not “${text}”`,
    );
  }
  return mm;
};

const SWITCH: Readonly<Record<string, boolean>> = { yes: true, no: false };

/** Settings of the program's form by `key=value`: keys as in a machine file, hyphens in place of capitals. */
const formOf = (texts: readonly string[]): FormChanges => {
  const changes: Record<string, unknown> = {};
  for (const text of texts) {
    const [name, value] = pairOf('form', text);
    const key = name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
    if (!Object.hasOwn(FormSchema.entries, key)) throw new Failure(`--form has no “${name}”; ${HINT}`);
    const wish = numberIn(value) ?? (Object.hasOwn(SWITCH, value) ? SWITCH[value] : value);
    const read = v.safeParse(FormSchema, { [key]: wish });
    if (!read.success) throw new Failure(`--form ${name} cannot be “${value}”; ${HINT}`);
    Object.assign(changes, read.output);
  }
  return changes;
};
