import * as v from 'valibot';
import type { Finding, Fork, Part } from '../../sketch/part/part.ts';
import type { Packing } from './route.ts';

/** What a part file says of packing in a setup: `route.setups.N.packing`. Lengths in the file's unit. */
const length = v.pipe(v.number(), v.finite(), v.maxValue(1000), v.minValue(-1000));

export const packingDocument = v.pipe(
  v.array(
    v.variant('kind', [
      v.strictObject({ kind: v.literal('block'), from: length, to: length }),
      v.strictObject({
        kind: v.literal('fork'),
        fork: v.pipe(v.string(), v.minLength(1), v.maxLength(80)),
      }),
    ]),
  ),
  v.maxLength(8),
);
export type PackingDocument = v.InferOutput<typeof packingDocument>;

/** Wishes for packing with their places worked out; what cannot be put in is a finding of severity error. */
export const packingOf = (
  wishes: PackingDocument,
  part: Pick<Part, 'forks'>,
  perUnit: number,
  setup: number,
  findings: Finding[],
): readonly Packing[] => {
  const refuse = (code: string, message: string): readonly Packing[] => {
    findings.push({ code, severity: 'error', setup, message: `route.setups: ${message}` });
    return [];
  };
  return wishes.flatMap((wish): readonly Packing[] => {
    if (wish.kind === 'block') {
      const { from, to } = { from: wish.from * perUnit, to: wish.to * perUnit };
      if (to > from) return [{ kind: 'block', from, to }];
      return refuse(
        'block-of-no-length',
        `the block under the work in setup ${setup} runs from X ${wish.from} to ${wish.to}.`,
      );
    }
    const fork = part.forks.find((f) => f.name === wish.fork);
    if (fork) return [{ kind: 'fork', fork: fork.name, ...pieceIn(fork) }];
    return refuse(
      'packing-fork-unknown',
      `packing of setup ${setup} is to go into “${wish.fork}”, which is no fork of the part.`,
    );
  });
};

/** A straight piece from the mouth to where the root begins to turn. */
const pieceIn = ({ mouth, direction, width, depth, root }: Fork) => ({
  mouth,
  direction,
  width,
  length: Math.max(1, depth - (root.kind === 'round' ? width / 2 : root.cornerRadius)),
});
