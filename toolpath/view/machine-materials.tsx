import { useState } from 'preact/hooks';
import { MATERIALS, type Material } from '../../sketch/part/part.ts';
import { NumberField } from '../../sketch/view/number-field.tsx';
import type { Edit } from '../../sketch/view/store.ts';
import { type Constant, constantsOf } from '../survival/materials.ts';
import { Figure } from './machine-figure.tsx';
import { machine, putMachine } from './machine-shop.ts';

/** Steps of the arrow keys that fit a figure's size. */
const STEP: Readonly<Record<Constant['key'], number>> = {
  kc11: 10,
  mc: 0.01,
  radialShare: 0.05,
  axialShare: 0.05,
  young: 1000,
  poisson: 0.01,
  density: 10,
};

/** What the estimates of force and bending take of a material, where each figure is from, and the owner's own instead. */
export const MaterialsOfMachine = (p: { readonly of: Material; readonly tell: (edit: Edit) => void }) => {
  const [chosen, setChosen] = useState<Material | null>(null);
  const material = chosen ?? p.of;
  const own = machine.value.materials?.[material];
  const rows = constantsOf(material, own);
  const put = (key: string, value: string | undefined): Edit =>
    putMachine(['materials', material, key], value);
  /** The last figure that goes takes the words about its source with it. */
  const putBack = (key: Constant['key']): Edit =>
    rows.some((row) => row.own && row.key !== key)
      ? put(key, undefined)
      : putMachine(['materials', material], undefined);
  return (
    <section aria-label="Figures of materials" class="constants">
      <p class="sentence">
        For estimates of force and bending,{' '}
        <select
          class="choice"
          aria-label="Material whose figures are shown"
          value={material}
          onChange={(e) => setChosen(MATERIALS.find((m) => m === e.currentTarget.value) ?? null)}
        >
          {MATERIALS.map((m) => (
            <option key={m} value={m} selected={m === material}>
              {m}
            </option>
          ))}
        </select>{' '}
        is taken to have:
      </p>
      <dl>
        {rows.map((row) => (
          <div key={`${material}.${row.key}`} class={row.own ? 'own' : undefined}>
            <dt>{row.name}</dt>
            <dd>
              <Figure
                path={['materials', material, row.key]}
                label={`${row.name} of ${material}`}
                step={STEP[row.key]}
                usual={row.usual}
              />{' '}
              {row.unit}{' '}
              {row.own && (
                <button
                  type="button"
                  class="quiet"
                  aria-label={`${row.name} of ${material}: back to the usual ${row.usual}`}
                  onClick={() => p.tell(putBack(row.key))}
                >
                  back to the usual {row.usual}
                </button>
              )}
            </dd>
            <dd class="from">{row.source}</dd>
          </div>
        ))}
      </dl>
      {rows.some((row) => row.own) && (
        <p class="sentence">
          Your figures of {material} are from{' '}
          <NumberField
            label={`Where your figures of ${material} are from`}
            value={own?.source ?? ''}
            words
            put={(v) => put('source', String(v) === '' ? undefined : String(v))}
            testId={`machine.materials.${material}.source`}
          />
        </p>
      )}
    </section>
  );
};
