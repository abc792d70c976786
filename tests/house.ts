import { cruise, type ICruiseOptions, type ICruiseResult } from 'dependency-cruiser';
import ts from 'typescript';

/**
 * The rooms of the house: for each, the rooms and the packages it may use besides its own. Work runs one way,
 * sketch → toolpath → gcode; a room that is not here does not exist yet.
 */
export const ROOMS: Readonly<Record<string, { readonly pure: boolean; readonly uses: readonly string[] }>> = {
  'sketch/shape': { pure: true, uses: ['clipper-lib'] },
  'sketch/part': { pure: true, uses: ['sketch/shape', 'valibot', 'jsep'] },
  'sketch/exchange': { pure: true, uses: ['sketch/part', 'sketch/shape', 'saxes'] },
  'sketch/draft': { pure: true, uses: ['sketch/part', 'sketch/shape'] },
  'sketch/canvas': {
    pure: false,
    uses: ['sketch/part', 'sketch/shape', 'sketch/draft', 'paper', '@preact/signals'],
  },
  'sketch/view': {
    pure: false,
    uses: [
      'sketch/part',
      'sketch/shape',
      'sketch/draft',
      'sketch/exchange',
      'sketch/canvas',
      'preact',
      '@preact/signals',
      'file-saver',
      'idb-keyval',
    ],
  },
  'toolpath/machine': { pure: true, uses: ['sketch/part', 'valibot'] },
  'toolpath/route': { pure: true, uses: ['sketch/part', 'sketch/shape', 'toolpath/machine', 'valibot'] },
  'toolpath/passes': {
    pure: true,
    uses: ['sketch/part', 'sketch/shape', 'toolpath/machine', 'toolpath/route'],
  },
  'toolpath/removal': {
    pure: true,
    uses: ['sketch/part', 'sketch/shape', 'toolpath/machine', 'toolpath/route'],
  },
  'toolpath/survival': {
    pure: true,
    uses: [
      'sketch/part',
      'sketch/shape',
      'toolpath/machine',
      'toolpath/route',
      'toolpath/removal',
      'toolpath/passes',
    ],
  },
  'toolpath/view': {
    pure: false,
    uses: [
      'sketch/part',
      'sketch/shape',
      'sketch/draft',
      'sketch/canvas',
      'sketch/view',
      'toolpath/machine',
      'toolpath/route',
      'toolpath/passes',
      'toolpath/removal',
      'toolpath/survival',
      'preact',
      '@preact/signals',
    ],
  },
  'gcode/program': {
    pure: true,
    uses: ['sketch/part', 'sketch/shape', 'toolpath/machine', 'toolpath/route', 'toolpath/passes'],
  },
  // The reader knows the standard and nothing of who wrote the text.
  'gcode/reading': { pure: true, uses: ['sketch/shape'] },
  // The proof never sees the planner or the writer.
  'gcode/proof': {
    pure: true,
    uses: [
      'sketch/part',
      'sketch/shape',
      'toolpath/machine',
      'toolpath/route',
      'toolpath/removal',
      'gcode/reading',
    ],
  },
  'gcode/table': {
    pure: true,
    uses: ['sketch/part', 'sketch/shape', 'toolpath/machine', 'toolpath/route', 'toolpath/passes'],
  },
  'gcode/survival': {
    pure: true,
    uses: [
      'toolpath/removal',
      'sketch/part',
      'sketch/shape',
      'toolpath/machine',
      'toolpath/route',
      'toolpath/passes',
      'toolpath/survival',
      'gcode/reading',
      'gcode/proof',
    ],
  },
  'gcode/chain.ts': {
    pure: true,
    uses: [
      'gcode/survival',
      'toolpath/survival',
      'sketch/part',
      'toolpath/machine',
      'toolpath/route',
      'toolpath/passes',
      'gcode/program',
      'gcode/proof',
    ],
  },
  'gcode/advice.ts': { pure: true, uses: ['gcode/chain.ts', 'gcode/survival', 'toolpath/survival'] },
  'gcode/compare-peeling.ts': {
    pure: true,
    uses: [
      'gcode/chain.ts',
      'gcode/survival',
      'sketch/part',
      'toolpath/passes',
      'toolpath/removal',
      'toolpath/route',
      'toolpath/survival',
    ],
  },
  // Does what a table's text says, as a person would; never sees the planner.
  'gcode/handwork': {
    pure: true,
    uses: ['sketch/part', 'sketch/shape', 'toolpath/machine', 'gcode/reading', 'gcode/proof', 'gcode/table'],
  },
  'gcode/sheet': {
    pure: true,
    uses: [
      'sketch/part',
      'sketch/shape',
      'toolpath/machine',
      'toolpath/route',
      'toolpath/passes',
      'toolpath/survival',
      'gcode/chain.ts',
      'gcode/program',
      'gcode/proof',
      'gcode/survival',
      'gcode/table',
      'gcode/handwork',
    ],
  },
  'gcode/view': {
    pure: false,
    uses: [
      'sketch/part',
      'sketch/shape',
      'sketch/draft',
      'sketch/canvas',
      'sketch/view',
      'toolpath/machine',
      'toolpath/route',
      'toolpath/passes',
      'toolpath/removal',
      'toolpath/survival',
      'toolpath/view',
      'gcode/advice.ts',
      'gcode/compare-peeling.ts',
      'gcode/chain.ts',
      'gcode/program',
      'gcode/reading',
      'gcode/proof',
      'gcode/survival',
      'gcode/handwork',
      'gcode/table',
      'gcode/sheet',
      'uplot',
      'preact',
      '@preact/signals',
    ],
  },
  'gcode/command': {
    pure: false,
    uses: [
      'sketch/part',
      'toolpath/machine',
      'toolpath/route',
      'gcode/advice.ts',
      'gcode/chain.ts',
      'gcode/program',
      'gcode/survival',
      'gcode/proof',
      'gcode/table',
      'gcode/handwork',
      'gcode/sheet',
      'valibot',
      'child_process',
      'url',
      'os',
      'fs',
      'path',
      'util',
    ],
  },
  'gcode/cli.ts': { pure: false, uses: ['gcode/command', 'package.json'] },
};

/** The room of a file, and for a package its name. */
export const roomOf = (path: string): string => {
  const parts = path.split('/');
  if (parts[0] === 'node_modules') return parts.slice(1, parts[1]?.startsWith('@') ? 3 : 2).join('/');
  return parts.slice(0, 2).join('/');
};

const CRUISE: ICruiseOptions = {
  // Imports of types count for the way work runs; they make no circle, for nothing is loaded by them.
  tsPreCompilationDeps: true,
  doNotFollow: { path: 'node_modules' },
  validate: true,
  ruleSet: {
    forbidden: [
      {
        name: 'circle',
        severity: 'error',
        from: {},
        to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
      },
    ],
  },
};

export interface Import {
  readonly from: string;
  readonly to: string;
}

/** Every import below the given folders, and the circles among them. */
export const importsBelow = async (
  base: string,
  folders: readonly string[],
): Promise<{ readonly imports: readonly Import[]; readonly circles: readonly string[] }> => {
  const { output } = await cruise(
    [...folders],
    { ...CRUISE, baseDir: base },
    { extensions: ['.ts', '.tsx', '.js', '.json'] },
  );
  const { modules, summary } = output as ICruiseResult;
  return {
    imports: modules
      .filter((m) => !m.source.startsWith('node_modules'))
      .flatMap((m) => m.dependencies.map((d) => ({ from: m.source, to: d.resolved }))),
    circles: summary.violations
      .filter((v) => v.rule.name === 'circle')
      .map((v) => [v.from, ...(v.cycle ?? []).map((step) => step.name)].join(' → ')),
  };
};

/** Imports that no room allows, as sentences. */
export const wrongWays = (imports: readonly Import[]): readonly string[] =>
  imports.flatMap(({ from, to }) => {
    const [room, other] = [roomOf(from), roomOf(to)];
    const rules = Object.hasOwn(ROOMS, room) ? ROOMS[room] : undefined;
    if (rules === undefined) return [`${from}: there is no room ${room}`];
    return room === other || rules.uses.includes(other) ? [] : [`${from} must not import ${to}`];
  });

/**
 * What files say that only a page or only Node could answer: they are compiled with the language's own library and
 * nothing else, so that `document`, `window` or `process` are unknown names.
 */
export const impurities = (files: readonly string[]): readonly string[] => {
  const program = ts.createProgram([...files], {
    target: ts.ScriptTarget.ES2022,
    lib: ['lib.es2023.d.ts'],
    types: [],
    module: ts.ModuleKind.ESNext,
    moduleResolution: ts.ModuleResolutionKind.Bundler,
    strict: true,
    skipLibCheck: true,
    allowImportingTsExtensions: true,
    noEmit: true,
  });
  const named = new Set(files);
  return ts
    .getPreEmitDiagnostics(program)
    .filter((d) => d.file !== undefined && named.has(d.file.fileName))
    .map((d) => {
      const at = d.file!.getLineAndCharacterOfPosition(d.start ?? 0);
      return `${d.file!.fileName}:${at.line + 1} ${ts.flattenDiagnosticMessageText(d.messageText, ' ')}`;
    });
};
