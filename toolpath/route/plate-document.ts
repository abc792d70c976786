import * as v from 'valibot';
import type { Finding, Part } from '../../sketch/part/part.ts';
import { USUAL_FASTENING } from './plate.ts';
import { type PlateHold, SCREW_THREADS, type ScrewPlace } from './route.ts';

/** What a part file says of work that lies on a plate: `route.setups.N.plate`. Places in the file's unit. */
const length = v.pipe(v.number(), v.finite(), v.maxValue(1000), v.minValue(-1000));
const name = v.pipe(v.string(), v.minLength(1), v.maxLength(80));
const places = v.pipe(v.array(v.strictObject({ x: length, y: length })), v.maxLength(12));
const clampLength = v.pipe(v.number(), v.finite(), v.gtValue(0), v.maxValue(200));
const strength = v.pipe(v.number(), v.finite(), v.gtValue(0), v.maxValue(50));

export const fasteningDocument = v.variant('kind', [
  v.strictObject({
    kind: v.literal('tape'),
    /** MPa. */
    shear: v.optional(strength),
    peel: v.optional(strength),
  }),
  v.strictObject({
    kind: v.literal('screws'),
    thread: v.picklist(SCREW_THREADS),
    /** Through these holes of the part, and at these places outside it. */
    holes: v.optional(v.pipe(v.array(name), v.maxLength(12))),
    places: v.optional(places),
  }),
  v.strictObject({
    kind: v.literal('clamps'),
    /** N each. */
    force: v.optional(v.pipe(v.number(), v.finite(), v.gtValue(0), v.maxValue(50_000))),
    places,
    /** Of each clamp: width, how far its foot reaches in, how high it stands over the work. */
    size: v.optional(v.strictObject({ width: clampLength, reach: clampLength, height: clampLength })),
  }),
]);
export type FasteningDocument = v.InferOutput<typeof fasteningDocument>;

/** A wish for a plate with its places worked out. A hole that the part has not is a finding of severity error. */
export const plateOf = (
  wish: FasteningDocument,
  part: Pick<Part, 'holes'>,
  perUnit: number,
  setup: number,
  findings: Finding[],
): PlateHold => {
  const inMm = ({ x, y }: { readonly x: number; readonly y: number }) => ({ x: x * perUnit, y: y * perUnit });
  switch (wish.kind) {
    case 'tape': {
      const { tapeShear, tapePeel } = USUAL_FASTENING;
      return {
        kind: 'plate',
        fastening: { kind: 'tape', shear: wish.shear ?? tapeShear, peel: wish.peel ?? tapePeel },
      };
    }
    case 'clamps':
      return {
        kind: 'plate',
        fastening: {
          kind: 'clamps',
          force: wish.force ?? USUAL_FASTENING.clamp,
          places: wish.places.map(inMm),
          ...(wish.size && {
            size: {
              width: wish.size.width * perUnit,
              reach: wish.size.reach * perUnit,
              height: wish.size.height * perUnit,
            },
          }),
        },
      };
    case 'screws': {
      const through = (wish.holes ?? []).flatMap((name): readonly ScrewPlace[] => {
        const hole = part.holes.find((h) => h.name === name);
        if (hole) return [{ ...hole.centre, hole: name }];
        findings.push({
          code: 'screw-hole-unknown',
          severity: 'error',
          setup,
          message: `route.setups: a screw of setup ${setup} is to go through “${name}”, which is no hole of the part.`,
        });
        return [];
      });
      const beside = (wish.places ?? []).map((at): ScrewPlace => ({ ...inMm(at), hole: null }));
      return {
        kind: 'plate',
        fastening: { kind: 'screws', thread: wish.thread, places: [...through, ...beside] },
      };
    }
  }
};
