import { signal } from '@preact/signals';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Dimension } from '../canvas/dimension.ts';
import { placedDimensions } from '../canvas/draw-dimensions.ts';
import type { Drawing } from '../canvas/draw-part.ts';
import type { Sheet } from '../canvas/sheet.ts';
import { drive } from '../draft/drive.ts';
import type { JsonObject } from '../draft/json.ts';
import { type Measure, measuredValue } from '../draft/measure.ts';
import { nameMeasure } from '../draft/name-measure.ts';
import { inMm, inUnit, lettered } from '../draft/stated.ts';
import { typedNumber } from '../draft/typed.ts';
import type { Point } from '../shape/point.ts';
import { backToSheet } from './back-to-sheet.ts';
import type { Drafting } from './drafting.ts';
import type { Edit, Store } from './store.ts';

interface MeasureProps {
  readonly store: Store;
  readonly sheet: Sheet;
  readonly drafting: Drafting;
  readonly drawing: { readonly value: Drawing | null };
  /** Places that lettering keeps clear of, as they are drawn. */
  readonly kept: readonly Point[];
}

/** The measure that is being written, by its place in the drawing's list. */
const writing = signal<number | null>(null);

const isAngle = (m: Measure): boolean =>
  m.kind === 'angle' || (m.kind === 'field' && m.path.at(-1) === 'direction');

/** What a measure belongs to, as it is spoken. */
const whose = ({ feature, measures }: Dimension): string => {
  if (feature) return `of ${feature}`;
  return measures?.kind === 'field' ? 'of the inside corners' : 'over all';
};

/** Every measure of the drawing that can be given another value: press its figure and write. */
export const MeasureSpots = (p: MeasureProps) => {
  const now = p.store.opened.value;
  const drawing = p.drawing.value;
  if (!now || !drawing || p.drafting.tool.value || p.store.shown.value !== now) return null;
  const placed = placedDimensions(p.sheet.camera.value, p.sheet.viewport.value, drawing, { kept: p.kept });
  return (
    <ul class="measure-spots" aria-label="Measures on the drawing">
      {placed.map(({ dimension, box }, i) => {
        if (!dimension.measures) return null;
        const style = {
          left: `${box.min.x}px`,
          top: `${box.min.y}px`,
          width: `${Math.max(24, box.max.x - box.min.x)}px`,
          height: `${Math.max(24, box.max.y - box.min.y)}px`,
        };
        return (
          <li key={`${dimension.feature}.${dimension.text}.${i}`}>
            {writing.value === i ? (
              <MeasureForm {...p} dimension={dimension} measure={dimension.measures} style={style} />
            ) : (
              <button
                type="button"
                class="measure-spot"
                style={style}
                aria-label={`${dimension.text} ${whose(dimension)}. Press to change it.`}
                data-measure={dimension.text}
                onClick={() => {
                  writing.value = i;
                  if (dimension.feature) p.store.pick([dimension.feature]);
                }}
              />
            )}
          </li>
        );
      })}
    </ul>
  );
};

interface FormProps extends MeasureProps {
  readonly dimension: Dimension;
  readonly measure: Measure;
  readonly style: { readonly left: string; readonly top: string };
}

const MeasureForm = ({ store, drafting, dimension, measure, style }: FormProps) => {
  const document = store.opened.value?.document ?? {};
  const unit = store.opened.value?.part.unit ?? 'mm';
  const value = measuredValue(document, measure) ?? 0;
  const shown = isAngle(measure)
    ? lettered((value * 180) / Math.PI, 'degrees')
    : lettered(inUnit(value, unit), unit);
  const [text, setText] = useState(shown);
  const [ask, setAsk] = useState<readonly string[]>([]);
  const [refused, setRefused] = useState<string | null>(null);
  const [name, setName] = useState('');
  const input = useRef<HTMLInputElement>(null);
  useLayoutEffect(() => {
    input.current?.focus();
    input.current?.select();
  }, []);
  const leave = (): void => {
    writing.value = null;
    backToSheet();
  };
  const done = (edit: Edit, words: readonly string[]): void => {
    if (!edit.ok) {
      setRefused(edit.message);
      return;
    }
    leave();
    drafting.tell(edit, words.join(' '));
  };
  const put = (through?: string): void => {
    if (text.trim() === shown) {
      leave();
      return;
    }
    const typed = typedNumber(text);
    if (typed === null) {
      setRefused(
        text.trim() === ''
          ? 'A number is wanted here.'
          : `“${text}” is not a number. A formula goes on the card.`,
      );
      return;
    }
    const wanted = isAngle(measure) ? (typed * Math.PI) / 180 : inMm(typed, unit);
    const all = [measure, ...(dimension.alike ?? []).flatMap((a) => a.measures ?? [])];
    let next: JsonObject = document;
    const changed: string[] = [];
    for (const each of all) {
      const driven = drive(next, each, wanted, through);
      if (!driven.ok) {
        setAsk(driven.ask ?? []);
        setRefused(driven.message);
        return;
      }
      next = driven.document;
      changed.push(...driven.changed);
    }
    done(
      store.change(() => next),
      changed,
    );
  };
  return (
    <form
      class="measure-form"
      style={{ left: style.left, top: style.top }}
      aria-label={`Change ${dimension.text}`}
      onSubmit={(e) => {
        e.preventDefault();
        put();
      }}
      onKeyDown={(e) => {
        if (e.key !== 'Escape') return;
        e.stopPropagation();
        leave();
      }}
    >
      <input
        ref={input}
        type="text"
        inputMode="decimal"
        autocomplete="off"
        aria-label={`New value of ${dimension.text}`}
        data-new-measure
        value={text}
        size={Math.max(5, text.length)}
        onInput={(e) => setText(e.currentTarget.value)}
      />{' '}
      <button type="submit">set</button>{' '}
      <button type="button" class="quiet" onClick={leave}>
        leave
      </button>
      {ask.length > 0 && (
        <span class="strip-acts">
          through{' '}
          {ask.map((through) => (
            <button key={through} type="button" class="quiet" onClick={() => put(through)}>
              {through}
            </button>
          ))}
        </span>
      )}
      <span class="naming">
        name it{' '}
        <input
          type="text"
          autocomplete="off"
          spellcheck={false}
          aria-label={`Name for ${dimension.text} as a dimension`}
          value={name}
          size={8}
          onInput={(e) => setName(e.currentTarget.value)}
          onKeyDown={(e) => {
            if (e.key !== 'Enter') return;
            e.preventDefault();
            const named = nameMeasure(document, measure, name.trim());
            done(store.take(named), named.ok ? named.changed : []);
          }}
        />
      </span>
      {refused && (
        <span class="wrong" role="alert">
          {refused}
        </span>
      )}
    </form>
  );
};
