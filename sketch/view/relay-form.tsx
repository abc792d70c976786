import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { levelThrough, mirrorFeatures, uprightThrough } from '../draft/mirror.ts';
import { patternAlong, patternRound } from '../draft/pattern.ts';
import { inMm, inUnit } from '../draft/stated.ts';
import { turnFeatures } from '../draft/turn.ts';
import { placedFeatures } from '../draft/under.ts';
import type { Point } from '../shape/point.ts';
import { backToSheet } from './back-to-sheet.ts';
import type { FeatureActs } from './feature-acts.ts';
import { NumberField } from './number-field.tsx';
import type { Edit, Store } from './store.ts';

/** The ways to lay what is picked elsewhere or again. */
export const RELAYS = ['mirror', 'turn', 'row', 'ring'] as const;
export type RelayKind = (typeof RELAYS)[number];

interface FormProps {
  readonly store: Store;
  readonly acts: FeatureActs;
  readonly kind: RelayKind;
  readonly onDone: () => void;
}

/** How it is to be laid, as a sentence with figures; nothing happens before “do it”. */
export const RelayForm = ({ store, acts, kind, onDone }: FormProps) => {
  const part = store.opened.value?.part;
  const unit = part?.unit ?? 'mm';
  const [way, setWay] = useState('upright');
  const [about, setAbout] = useState('');
  const [copy, setCopy] = useState(kind === 'mirror');
  const [count, setCount] = useState(kind === 'row' ? 3 : 6);
  const [across, setAcross] = useState(inUnit(part ? part.bar.width / 2 : 10, unit));
  const [up, setUp] = useState(0);
  const [angle, setAngle] = useState(kind === 'turn' ? 90 : 360);
  const form = useRef<HTMLFormElement>(null);
  useLayoutEffect(() => form.current?.querySelector<HTMLElement>('input, select')?.focus(), []);
  if (!part) return null;
  const leave = (): void => {
    onDone();
    backToSheet();
  };
  const places = placedFeatures(part).filter((f) => f.kind !== 'arm');
  const centre: Point = places.find((f) => f.name === about)?.at ?? { x: 0, y: 0 };

  const go = (): void => {
    const edit = acts.relaid((document, names) => {
      switch (kind) {
        case 'mirror':
          return mirrorFeatures(
            document,
            names,
            (way === 'upright' ? uprightThrough : levelThrough)(centre),
            {
              copy,
            },
          );
        case 'turn':
          return turnFeatures(document, names, centre, (angle * Math.PI) / 180, { copy });
        case 'row':
          return patternAlong(document, names, { x: inMm(across, unit), y: inMm(up, unit) }, count);
        case 'ring':
          return patternRound(document, names, centre, count, (angle * Math.PI) / 180);
      }
    });
    if (edit.ok) leave();
  };
  const number = (label: string, value: number, set: (v: number) => void) => (
    <NumberField
      label={label}
      value={value}
      put={(v): Edit => numberOnly(v, set)}
      testId={`relay.${label}`}
    />
  );
  const centreChoice = (
    <select
      class="choice"
      aria-label="About which place"
      value={about}
      onChange={(e) => setAbout(e.currentTarget.value)}
    >
      <option value="">nought</option>
      {places.map((f) => (
        <option key={f.name} value={f.name} selected={f.name === about}>
          {f.name}
        </option>
      ))}
    </select>
  );
  const copyChoice = (
    <label>
      <input type="checkbox" checked={copy} onChange={(e) => setCopy(e.currentTarget.checked)} /> and keep the
      original
    </label>
  );
  return (
    <form
      ref={form}
      class="sentence relay-form"
      aria-label={`Lay what is picked: ${kind}`}
      onSubmit={(e) => {
        e.preventDefault();
        go();
      }}
      onKeyDown={(e) => {
        if (e.key === 'Escape') {
          e.stopPropagation();
          leave();
        }
      }}
    >
      {kind === 'mirror' && (
        <>
          about{' '}
          <select
            class="choice"
            aria-label="Direction of the mirror line"
            value={way}
            onChange={(e) => setWay(e.currentTarget.value)}
          >
            <option value="upright">an upright</option>
            <option value="level">a level</option>
          </select>{' '}
          line through {centreChoice}, {copyChoice}
        </>
      )}
      {kind === 'turn' && (
        <>
          by {number('Angle', angle, setAngle)}° about {centreChoice}, {copyChoice}
        </>
      )}
      {kind === 'row' && (
        <>
          {number('How many', count, setCount)} in all, each {number('Step across', across, setAcross)} across
          and {number('Step up', up, setUp)} up from the one before
        </>
      )}
      {kind === 'ring' && (
        <>
          {number('How many', count, setCount)} in all round {centreChoice}, over{' '}
          {number('Angle', angle, setAngle)}°
        </>
      )}{' '}
      <button type="submit">do it</button>{' '}
      <button type="button" class="quiet" onClick={leave}>
        leave
      </button>
    </form>
  );
};

const numberOnly = (v: number | string, set: (v: number) => void): Edit => {
  if (typeof v === 'string') return { ok: false, message: 'A number is wanted here.' };
  set(v);
  return { ok: true };
};
