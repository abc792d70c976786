import type { Json } from '../../sketch/draft/json.ts';
import type { Part } from '../../sketch/part/part.ts';
import { MM_PER_INCH } from '../../sketch/part/units.ts';
import { NumberField } from '../../sketch/view/number-field.tsx';
import type { Edit } from '../../sketch/view/store.ts';
import { SCREW_HEAD, TOE_CLAMP } from '../route/plate.ts';
import { type ClampSize, type Fastening, type PlateHold, SCREW_THREADS, type Setup } from '../route/route.ts';
import { placeIn } from './hold-choice.tsx';
import { inUnit } from './work.ts';

interface PlateProps {
  readonly part: Part;
  readonly setup: Setup;
  readonly hold: PlateHold;
  readonly put: (path: readonly string[], value: Json) => Edit;
}

/** What follows each figure of a clamp's size. */
const CLAMP_WORDS = { width: 'wide, reaches in ', reach: 'and stands ', height: 'over the work.' } as const;

/** A fastening as the part file says it, lengths in its unit. */
const documentOf = (part: Part, fastening: Fastening): { readonly [key: string]: Json } => {
  switch (fastening.kind) {
    case 'tape':
      return { kind: 'tape', shear: fastening.shear, peel: fastening.peel };
    case 'screws':
      return {
        kind: 'screws',
        thread: fastening.thread,
        holes: fastening.places.flatMap((p) => (p.hole === null ? [] : [p.hole])),
        places: fastening.places.flatMap((p) => (p.hole === null ? [placeIn(part, p)] : [])),
      };
    case 'clamps':
      return {
        kind: 'clamps',
        force: fastening.force,
        places: fastening.places.map((p) => placeIn(part, p)),
        ...(fastening.size && { size: sizeIn(part, fastening.size) }),
      };
  }
};

const sizeIn = (part: Part, { width, reach, height }: ClampSize) => ({
  width: inUnit(part, width),
  reach: inUnit(part, reach),
  height: inUnit(part, height),
});

/** How work on a plate is fastened: strengths, screws and places, changed in place. */
export const PlateSentences = ({ part, setup, hold, put }: PlateProps) => {
  const { fastening } = hold;
  const { number } = setup;
  const document = documentOf(part, fastening);
  const change = (changes: { readonly [key: string]: Json }): Edit =>
    put(['plate'], { ...document, ...changes });
  const figure = (label: string, value: number, take: (v: number) => Edit, step: number, testId: string) => (
    <NumberField
      label={`${label}, setup ${number}`}
      value={value}
      step={step}
      put={(v) => (typeof v === 'number' ? take(v) : { ok: false, message: 'A number is wanted here.' })}
      testId={`setup${number}.${testId}`}
    />
  );
  switch (fastening.kind) {
    case 'tape':
      return (
        <p class="sentence">
          Tape on both faces with glue between, over all of the underside that bears. It is taken to stand{' '}
          {figure('Tape sideways, MPa', fastening.shear, (v) => change({ shear: v }), 0.01, 'shear')} MPa
          sideways and{' '}
          {figure('Tape pulled off, MPa', fastening.peel, (v) => change({ peel: v }), 0.01, 'peel')} MPa
          pulled off (values from memory, for clean flat metal).
        </p>
      );
    case 'screws':
      return (
        <>
          <p class="sentence">
            Socket head screws{' '}
            <select
              class="choice"
              aria-label={`Thread of the screws, setup ${number}`}
              value={fastening.thread}
              onChange={(e) => change({ thread: e.currentTarget.value })}
            >
              {SCREW_THREADS.map((t) => (
                <option key={t} value={t} selected={t === fastening.thread}>
                  {t}
                </option>
              ))}
            </select>
            , heads ⌀ {SCREW_HEAD[fastening.thread].head} mm, through{' '}
            {part.holes.length === 0
              ? 'no hole of the part'
              : 'these holes of the part, drilled in an earlier setup:'}
          </p>
          {part.holes.length > 0 && (
            <ul class="screw-holes">
              {part.holes.map((hole) => {
                const taken = fastening.places.some((p) => p.hole === hole.name);
                return (
                  <li key={hole.name}>
                    <label>
                      <input
                        type="checkbox"
                        checked={taken}
                        aria-label={`A screw through ${hole.name}, setup ${number}`}
                        onChange={() => {
                          const now = fastening.places.flatMap((p) => (p.hole === null ? [] : [p.hole]));
                          change({
                            holes: taken ? now.filter((n) => n !== hole.name) : [...now, hole.name],
                          });
                        }}
                      />{' '}
                      {hole.name}
                    </label>
                  </li>
                );
              })}
            </ul>
          )}
          <Places
            {...{ part, number, change }}
            what="screw"
            places={fastening.places.filter((p) => p.hole === null)}
          />
        </>
      );
    case 'clamps': {
      const clampSize = sizeIn(part, fastening.size ?? TOE_CLAMP);
      return (
        <>
          <p class="sentence">
            Toe clamps of{' '}
            {figure('Force of each clamp, N', fastening.force, (v) => change({ force: v }), 100, 'force')} N
            each (about 2500 N for a small one done up by hand, value from memory), on the bar beside the
            part. Each is{' '}
            {(['width', 'reach', 'height'] as const).map((key) => (
              <span key={key}>
                {figure(
                  `Clamp ${key}`,
                  clampSize[key],
                  (v) => change({ size: { ...clampSize, [key]: v } }),
                  part.unit === 'mm' ? 1 : 0.05,
                  `clamp.${key}`,
                )}{' '}
                {CLAMP_WORDS[key]}
              </span>
            ))}
          </p>
          <Places {...{ part, number, change }} what="clamp" places={fastening.places} />
        </>
      );
    }
  }
};

interface PlacesProps {
  readonly part: Part;
  readonly number: number;
  readonly what: 'screw' | 'clamp';
  readonly places: readonly { readonly x: number; readonly y: number }[];
  readonly change: (changes: { readonly [key: string]: Json }) => Edit;
}

/** Places on the bar outside the part, as figures of the drawing. */
const Places = ({ part, number, what, places, change }: PlacesProps) => {
  const inFile = places.map((p) => placeIn(part, p));
  const write = (next: readonly { x: number; y: number }[]): Edit =>
    change({ places: next.map((p) => ({ ...p })) });
  const { bar } = part;
  const fresh = { x: bar.corner.x + bar.length / 2, y: bar.corner.y + bar.width };
  return (
    <>
      <ul class="feet">
        {inFile.map((at, i) => (
          // The order is all that tells two alike apart.
          <li key={`${i} ${inFile.length}`}>
            {(['x', 'y'] as const).map((axis) => (
              <span key={axis}>
                {axis.toUpperCase()}{' '}
                <NumberField
                  label={`${axis.toUpperCase()} of ${what} ${i + 1}, setup ${number}`}
                  value={at[axis]}
                  step={part.unit === 'mm' ? 1 : 1 / MM_PER_INCH}
                  put={(v) =>
                    typeof v === 'number'
                      ? write(inFile.map((p, j) => (j === i ? { ...p, [axis]: v } : p)))
                      : { ok: false, message: 'A number is wanted here.' }
                  }
                  testId={`setup${number}.${what}${i + 1}.${axis}`}
                />{' '}
              </span>
            ))}
            <button
              type="button"
              class="quiet"
              aria-label={`take away ${what} ${i + 1}, setup ${number}`}
              onClick={() => write(inFile.filter((_, j) => j !== i))}
            >
              take away
            </button>
          </li>
        ))}
      </ul>
      <p>
        <button
          type="button"
          class="quiet"
          aria-label={`one more ${what} beside the part, setup ${number}`}
          onClick={() => write([...inFile, placeIn(part, fresh)])}
        >
          one more {what} beside the part
        </button>
      </p>
    </>
  );
};
