import { useState } from 'preact/hooks';
import type { Json, JsonObject } from '../draft/json.ts';
import { FEATURE_KINDS, type FeatureKind, KIND_WORDS, newFeature } from '../draft/new-feature.ts';
import { removeFeatures } from '../draft/remove.ts';
import { renameFeature } from '../draft/rename.ts';
import { inUnit, lettered } from '../draft/stated.ts';
import { type Quantity, workOutDimensions } from '../part/dimensions.ts';
import type { Unit } from '../part/part.ts';
import { MATERIALS } from '../part/part.ts';
import { USUAL_LEAST_WALL } from '../part/resolve.ts';
import type { Point } from '../shape/point.ts';
import { Blank, Choice, type DrawProps } from './blank.tsx';
import { FeatureSentence } from './features.tsx';
import { NamedDimensions } from './named-dimensions.tsx';
import { PartFindings } from './part-findings.tsx';
import { ScaleLine } from './scale-line.tsx';
import type { Store } from './store.ts';

/** The Draw stage: the whole document in sentences, every figure to be changed where it stands. */
export const DrawPanel = ({ store }: { readonly store: Store }) => {
  const opened = store.opened.value;
  const [refused, setRefused] = useState<{ kind: FeatureKind; message: string } | null>(null);
  /** What went with a removed feature. */
  const [gone, setGone] = useState<{ kind: FeatureKind; names: readonly string[] } | null>(null);
  if (!opened) return <p>Open a part file, or choose one of the samples above.</p>;
  const stated = (store.at(['dimensions']) ?? {}) as { readonly [name: string]: Quantity };
  const values = workOutDimensions(new Map(Object.entries(stated))).values;
  const unit = opened.part.unit === 'mm' ? 'mm' : 'inches';
  const props: DrawProps = { store, values };

  return (
    <div class="draw">
      <p class="sentence">
        Called <Blank {...props} path={['name']} label="Name of the part" words />.
      </p>
      <PartFindings store={store} findings={opened.findings} />
      <p class="unit-note">
        All figures in {unit}. A figure may be a formula over the named dimensions, like <i>length / 2 + 3</i>
        .
      </p>
      <NamedDimensions store={store} stated={stated} values={values} />
      <ScaleLine store={store} />
      <BarSentence {...props} />
      {FEATURE_KINDS.map((kind) => (
        <section key={kind}>
          <h3>
            {KIND_WORDS[kind].many}
            <button
              type="button"
              class="quiet"
              onClick={() => {
                const edit = addFeature(store, kind);
                setRefused(edit.ok ? null : { kind, message: edit.message });
              }}
            >
              add {KIND_WORDS[kind].one}
            </button>
          </h3>
          {refused?.kind === kind && (
            <p class="wrong" role="alert">
              Not added: {refused.message}
            </p>
          )}
          {gone?.kind === kind && (
            <p class="remark" role="status">
              Gone with it: {gone.names.join(', ')}.
            </p>
          )}
          <FeatureList
            {...props}
            kind={kind}
            onGone={(names) => setGone(names.length > 0 ? { kind, names } : null)}
          />
        </section>
      ))}
    </div>
  );
};

/** The bar, and what holds for the outline as a whole. */
const BarSentence = (p: DrawProps) => {
  const { store } = p;
  const bar = store.opened.value?.part.bar;
  const stated = store.at(['bar', 'corner']) !== undefined;
  const unit = store.opened.value?.part.unit ?? 'mm';
  return (
    <>
      <h3>Bar</h3>
      <p class="sentence">
        <Choice store={store} path={['bar', 'material']} label="Material of the bar" choices={MATERIALS} />,{' '}
        <Blank {...p} path={['bar', 'length']} label="Length of the bar" /> long,{' '}
        <Blank {...p} path={['bar', 'width']} label="Width of the bar" /> wide,{' '}
        <Blank {...p} path={['bar', 'thickness']} label="Thickness of the bar" /> thick, sawn{' '}
        <Blank {...p} path={['bar', 'sawn']} label="Left by the saw on each end" otherwise={0} /> over at each
        end,{' '}
        <select
          class="choice"
          aria-label="Place of the bar"
          value={stated ? 'corner' : 'middle'}
          onChange={(e) =>
            store.put(
              ['bar', 'corner'],
              e.currentTarget.value === 'corner' && bar ? placeIn(bar.corner, unit) : undefined,
            )
          }
        >
          <option value="middle" selected={!stated}>
            laid round the outline
          </option>
          <option value="corner" selected={stated}>
            its lower left corner at
          </option>
        </select>
        {stated && (
          <>
            {' '}
            <Blank {...p} path={['bar', 'corner', 0]} label="Corner of the bar, across" />,{' '}
            <Blank {...p} path={['bar', 'corner', 1]} label="Corner of the bar, up" />
          </>
        )}
        .
      </p>
      <p class="sentence">
        Inside corners filled to a radius of{' '}
        <Blank {...p} path={['insideRadius']} label="Radius of inside corners" otherwise={0} />; no wall
        thinner than{' '}
        <Blank
          {...p}
          path={['leastWall']}
          label="Least wall"
          otherwise={
            unit === 'mm' ? USUAL_LEAST_WALL : Number(lettered(inUnit(USUAL_LEAST_WALL, unit), unit))
          }
        />
        .
      </p>
    </>
  );
};

const placeIn = (at: Point, unit: Unit): Json => [inUnit(at.x, unit), inUnit(at.y, unit)];

const addFeature = (store: Store, kind: FeatureKind) => {
  const part = store.opened.value?.part;
  if (!part) return { ok: false, message: 'No part is open.' } as const;
  const list = store.at([kind]);
  return store.put([kind], [...(Array.isArray(list) ? list : []), newFeature(kind, part)]);
};

interface ListProps extends DrawProps {
  readonly kind: FeatureKind;
  /** Told what went with a feature that was removed. */
  readonly onGone: (names: readonly string[]) => void;
}

const FeatureList = (p: ListProps) => {
  const { store, kind } = p;
  const [refused, setRefused] = useState<{ name: string; message: string } | null>(null);
  const list = store.at([kind]);
  if (!Array.isArray(list)) return null;
  return (
    <ul class="features">
      {list.map((item: JsonObject, i) => {
        const part = store.opened.value?.part;
        const name = String(item.name ?? (kind === 'arms' ? part?.arms[i]?.name : '') ?? '');
        const picked = store.chosen.value.includes(name);
        return (
          <li
            key={i}
            class={picked ? 'picked' : ''}
            data-feature={name}
            onFocusIn={() => {
              store.pick([name]);
            }}
          >
            <span class="name">
              <Blank
                {...p}
                path={[kind, i, 'name']}
                label={`Name of ${name}`}
                otherwise={name}
                words
                onPut={(to) => {
                  const edit = store.take(
                    renameFeature(store.opened.value?.document ?? {}, name, String(to)),
                  );
                  if (edit.ok) store.pick([String(to)]);
                  return edit;
                }}
              />
            </span>{' '}
            <FeatureSentence {...p} kind={kind} path={[kind, i]} name={name} />{' '}
            <button
              type="button"
              class="quiet remove"
              aria-label={`Remove ${name}`}
              onClick={(e) => {
                const heading = e.currentTarget.closest('section')?.querySelector<HTMLElement>('h3 button');
                const { document, alsoGone } = removeFeatures(store.opened.value?.document ?? {}, [name]);
                const edit = store.change(() => document);
                setRefused(edit.ok ? null : { name, message: edit.message });
                p.onGone(edit.ok ? alsoGone : []);
                if (!edit.ok) return;
                store.pick([]);
                // Its row is gone: the keyboard stays with its kind.
                heading?.focus();
              }}
            >
              remove
            </button>
            {refused?.name === name && (
              <span class="wrong" role="alert">
                Not removed: {refused.message}
              </span>
            )}
          </li>
        );
      })}
    </ul>
  );
};
