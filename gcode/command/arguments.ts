import { parseArgs } from 'node:util';
import { Failure } from './failure.ts';

/** What a command line asks for. */
export type Request =
  | { readonly kind: 'help' }
  | { readonly kind: 'version' }
  | ({ readonly kind: 'make'; readonly out: string } & Inputs)
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
}

const OPTIONS = {
  out: { type: 'string', multiple: true },
  set: { type: 'string', multiple: true },
  setup: { type: 'string', multiple: true },
  machine: { type: 'string', multiple: true },
  json: { type: 'boolean' },
  help: { type: 'boolean', short: 'h' },
  version: { type: 'boolean', short: 'V' },
} as const;

type OptionName = keyof typeof OPTIONS;

/** Which options a command takes. */
const TAKES: Readonly<Record<'make' | 'prove' | 'check', readonly OptionName[]>> = {
  make: ['out', 'set', 'machine'],
  prove: ['setup', 'set', 'machine', 'json'],
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
  };
  switch (command) {
    case 'make': {
      const out = once('out', values.out);
      if (out === undefined) throw new Failure(`“make” needs --out and a folder; ${HINT}`);
      return { kind: 'make', out, ...inputs };
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

/** `name=value`, the value a plain number in the file's unit. */
const readOverride = (text: string): [string, number] => {
  const at = text.indexOf('=');
  const name = text.slice(0, at).trim();
  const value = text.slice(at + 1).trim();
  if (at < 1 || name === '') throw new Failure(`--set takes name=value, not “${text}”`);
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,3})?$/i.test(value)) {
    throw new Failure(`--set ${name}: “${value}” is not a number`);
  }
  return [name, Number(value)];
};
