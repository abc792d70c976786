import { useState } from 'preact/hooks';
import type { Json } from '../../sketch/draft/json.ts';
import type { Edit } from '../../sketch/view/store.ts';
import type { Cutter } from '../machine/cutter.ts';
import { Figure } from './machine-figure.tsx';
import { putMachine } from './machine-shop.ts';

const KINDS: readonly Cutter['kind'][] = ['endmill', 'drill', 'reamer', 'spot', 'tap'];

/** What lies in the drawers; cutters are added and taken away, and their figures changed in place. */
export const Cutters = ({ cutters, tell }: { cutters: readonly Cutter[]; tell: (edit: Edit) => void }) => {
  const [kind, setKind] = useState<Cutter['kind']>('endmill');
  const [size, setSize] = useState('');
  const add = (): void => {
    const number = Math.max(0, ...cutters.map((c) => c.number)) + 1;
    const diameter = Number(size.replace(',', '.'));
    const tap = kind === 'tap';
    const entry: Json = tap
      ? { name: `${size.trim()} tap`, number, kind, thread: size.trim(), fluteLength: 12 }
      : { name: `${size.trim()} mm ${kind}`, number, kind, diameter, fluteLength: Math.max(6, diameter * 3) };
    const edit =
      tap || diameter > 0
        ? putMachine(['cutters', cutters.length], entry)
        : { ok: false as const, message: `“${size}” is no diameter.` };
    tell(edit);
    if (edit.ok) setSize('');
  };
  return (
    <>
      <ul class="cutters">
        {cutters.map((c, i) => (
          <li key={c.number}>
            {c.name}:{' '}
            {c.kind === 'tap' ? (
              c.designation
            ) : (
              <>
                ⌀ <Figure path={['cutters', i, 'diameter']} label={`Diameter of ${c.name}`} />
              </>
            )}
            , cuts <Figure path={['cutters', i, 'fluteLength']} label={`Cutting length of ${c.name}`} /> deep{' '}
            <button
              type="button"
              class="quiet"
              aria-label={`remove ${c.name}`}
              onClick={() => tell(putMachine(['cutters', i], undefined))}
            >
              remove
            </button>
          </li>
        ))}
      </ul>
      <form
        class="sentence"
        aria-label="One more cutter"
        onSubmit={(e) => {
          e.preventDefault();
          add();
        }}
      >
        One more{' '}
        <select
          class="choice"
          aria-label="Kind of the new cutter"
          value={kind}
          onChange={(e) => setKind(e.currentTarget.value as Cutter['kind'])}
        >
          {KINDS.map((k) => (
            <option key={k} value={k} selected={k === kind}>
              {k}
            </option>
          ))}
        </select>{' '}
        of{' '}
        <input
          type="text"
          class="plain-figure"
          aria-label={kind === 'tap' ? 'Thread of the new tap' : 'Diameter of the new cutter, mm'}
          size={6}
          value={size}
          onInput={(e) => setSize(e.currentTarget.value)}
        />{' '}
        <button type="submit" class="quiet">
          put it in the drawer
        </button>
      </form>
    </>
  );
};
