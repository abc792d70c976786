import { useState } from 'preact/hooks';
import { typedNumber } from '../draft/typed.ts';
import type { Unit } from '../part/part.ts';
import { degrees, mmPer, plain, radians } from '../part/units.ts';
import type { Point } from '../shape/point.ts';
import { backToSheet } from './back-to-sheet.ts';
import { NumberField } from './number-field.tsx';
import { drawerOpen } from './stage.ts';
import type { Edit } from './store.ts';
import { hold, placement, setScale, takeUnderlayAway, type Underlay, underlay } from './underlay.ts';

const SAID: Edit = { ok: true };

/** A number from a field that takes no formulas. */
const numeric = (value: number | string, take: (n: number) => void): Edit => {
  if (typeof value !== 'number') return { ok: false, message: 'A number is wanted here.' };
  if (Math.abs(value) > 1e5) return { ok: false, message: 'This is too large.' };
  take(value);
  return SAID;
};

/** The picture under the sheet: how strongly it is seen, where it lies, how large it is, and a way to be rid of it. */
export const UnderlayPanel = ({ unit }: { readonly unit: Unit }) => {
  const under = underlay.value;
  if (!under) return null;
  return (
    <section class="under-panel" aria-label="The picture under the sheet">
      <h2>
        <span class="under-name">Under the sheet: {under.subject.name}</span>
        <button
          type="button"
          class="quiet"
          aria-label="Remove the picture under the sheet"
          onClick={takeUnderlayAway}
        >
          remove
        </button>
      </h2>
      {hold.value === null || hold.value === 'move' ? (
        <Lying under={under} unit={unit} />
      ) : (
        <Scaling unit={unit} />
      )}
    </section>
  );
};

const Lying = ({ under, unit }: { readonly under: Underlay; readonly unit: Unit }) => {
  const p = placement.value;
  const k = mmPer(unit);
  const shown = (mm: number): number => Number(plain(mm / k, unit === 'mm' ? 2 : 4));
  const put = (change: Partial<typeof p>): void => {
    placement.value = { ...placement.value, ...change };
  };
  const moving = hold.value === 'move';
  return (
    <>
      <label class="under-fade">
        Faint{' '}
        <input
          type="range"
          min="0.1"
          max="1"
          step="0.05"
          value={p.strength}
          aria-label="How strongly the picture is seen"
          onInput={(e) => put({ strength: Number(e.currentTarget.value) })}
        />{' '}
        strong
      </label>
      <p>
        Its middle lies at{' '}
        <span class="place">
          <NumberField
            label="Middle of the picture, across"
            value={shown(p.middle.x)}
            put={(v) => numeric(v, (x) => put({ middle: { ...placement.value.middle, x: x * k } }))}
          />
          ,{' '}
          <NumberField
            label="Middle of the picture, up"
            value={shown(p.middle.y)}
            put={(v) => numeric(v, (y) => put({ middle: { ...placement.value.middle, y: y * k } }))}
          />
        </span>
        , turned{' '}
        <span class="place">
          <NumberField
            label="Turn of the picture, degrees"
            value={Number(plain(degrees(p.turn), 2))}
            put={(v) => numeric(v, (turn) => put({ turn: radians(turn) }))}
          />
          °
        </span>
        .
      </p>
      <div class="file-row">
        <button type="button" onClick={() => beginScaling(under)}>
          Scale by two points
        </button>
        <button
          type="button"
          aria-pressed={moving}
          onClick={() => {
            if (!moving) drawerOpen.value = false;
            hold.value = moving ? null : 'move';
          }}
        >
          {moving ? 'Leave it there' : 'Move by dragging'}
        </button>
      </div>
    </>
  );
};

/** The two points begin on the picture itself, a quarter from each side. */
const beginScaling = (under: Underlay): void => {
  // On a phone the drawer would lie over the very picture.
  drawerOpen.value = false;
  const p = placement.value;
  const reach = (under.width * p.scale) / 4;
  const at = (side: number): Point => ({
    x: p.middle.x + side * reach * Math.cos(p.turn),
    y: p.middle.y + side * reach * Math.sin(p.turn),
  });
  hold.value = { first: at(-1), second: at(1), next: 'first' };
};

const Scaling = ({ unit }: { readonly unit: Unit }) => {
  const [typed, setTyped] = useState('');
  const [level, setLevel] = useState(false);
  const [refused, setRefused] = useState<string | null>(null);
  return (
    <form
      onSubmit={(e) => {
        e.preventDefault();
        const edit = setScale((typedNumber(typed) ?? 0) * mmPer(unit), level);
        setRefused(edit.ok ? null : edit.message);
        if (edit.ok) backToSheet();
      }}
    >
      <p>
        Put the two marks on a distance you know, such as the centres of two holes: click them on the sheet
        one after the other, or move them with the arrow keys.
      </p>
      <p>
        <label>
          True distance{' '}
          <input
            type="text"
            class="plain-figure"
            inputMode="decimal"
            size={7}
            autocomplete="off"
            value={typed}
            aria-label={`True distance between the two points, ${unit === 'mm' ? 'mm' : 'inches'}`}
            onInput={(e) => setTyped(e.currentTarget.value)}
          />{' '}
          {unit === 'mm' ? 'mm' : 'in'}
        </label>
      </p>
      <p>
        <label>
          <input type="checkbox" checked={level} onChange={(e) => setLevel(e.currentTarget.checked)} /> turn
          it so that they lie level
        </label>
      </p>
      {refused && (
        <p class="wrong" role="alert">
          {refused}
        </p>
      )}
      <div class="file-row">
        <button type="submit">Set the scale</button>
        <button
          type="button"
          onClick={() => {
            hold.value = null;
          }}
        >
          Leave it as it was
        </button>
      </div>
    </form>
  );
};
