import manifest from '../package.json';
import { readArguments } from './command/arguments.ts';
import { check } from './command/check.ts';
import { Failure, oneLine } from './command/failure.ts';
import { make } from './command/make.ts';
import { prove } from './command/prove.ts';

const HELP = `leverwright – from a lever's part file to proven programs

  leverwright make PART.json --out DIR    write programs, table, sheet, proof and drawing
  leverwright prove PART.json FILE.ngc --setup N
                                          prove a program, edited by hand or foreign
  leverwright check PART.json             say whether the part file is sound and can be made

  --set NAME=VALUE   set a named dimension of the part, in its own unit; may be repeated
  --machine FILE     a machine file in place of the example machine
  --form KEY=VALUE   how programs are written, over what the machine file says; may be repeated:
                       unit=mm|inch  decimals=2 to 6  arcs=arcs|lines  chord=MM  full-circles=yes|no
                       tool-change=M6|stop-and-prompt  drilling=canned|spelled-out
                       line-numbers=yes|no  coolant=none|flood
  --gouge MM         deepest gouge that still fits; 0.02
  --excess MM        most material left standing that still fits; 0.05
  --tolerance MM     with make --stiffness: the most that the work may move and a pass leave on a finished wall or
                     floor; what the part file says, or 0.02
  --stiffness        with make: estimates of force, bending and hold for every pass, the orders side by side and
                       what to change; printed and in the proof file; takes a minute or more, when all the rest
                     is written already: stop it with Ctrl-C and that stays
  --pdf              with make: the sheets as PDF too, through a Chromium that is there ($CHROMIUM, /usr/bin/chromium)
  --paper A4|Letter  with make: PDF on this paper; A4 for a part in mm, Letter for one in inches
  --json             prove: print the proof as JSON
  --help, --version

Exit status: 0 all is well (the part fits), 1 the part does not fit, 2 nothing was done because of bad input.
`;

/** Runs a command line; says the exit status. */
const run = (args: readonly string[]): 0 | 1 => {
  const request = readArguments(args);
  switch (request.kind) {
    case 'help':
      process.stdout.write(HELP);
      return 0;
    case 'version':
      say([manifest.version]);
      return 0;
    case 'make':
      return told(make(request, say));
    case 'prove':
      return told(prove(request));
    case 'check':
      check(request, say);
      return 0;
  }
};

const say = (lines: readonly string[]): void => {
  if (lines.length > 0) process.stdout.write(`${lines.join('\n')}\n`);
};

const told = (outcome: { readonly lines: readonly string[]; readonly fits: boolean }): 0 | 1 => {
  say(outcome.lines);
  return outcome.fits ? 0 : 1;
};

// A reader that closes the pipe early (`| head`) is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

try {
  process.exitCode = run(process.argv.slice(2));
} catch (error) {
  const why = error instanceof Failure ? error.message : `this should not happen, please report it: ${error}`;
  process.stderr.write(`leverwright: ${oneLine(why)}\n`);
  process.exitCode = 2;
}
