import { useState } from 'preact/hooks';
import { plain } from '../../sketch/part/units.ts';
import type { Edit } from '../../sketch/view/store.ts';
import { FIRM, FRICTION } from '../survival/pass-load.ts';
import { clampFromTorque } from '../survival/vice-hold.ts';
import { Figure } from './machine-figure.tsx';
import { machine, putMachine } from './machine-shop.ts';

/** A pull to begin from when the torque is to be said, N·m. */
const TORQUE = 15;

/** How hard the vice is done up and how it rubs: what the estimates of hold and squeeze go by. */
export const ViceForce = () => {
  const [trouble, setTrouble] = useState<string | null>(null);
  const { clamp, torque, friction } = machine.value.vice;
  const way = clamp !== undefined ? 'force' : torque !== undefined ? 'torque' : 'firm';
  const force = clamp ?? (torque === undefined ? FIRM : clampFromTorque(torque));
  const tell = (edit: Edit): void => setTrouble(edit.ok ? null : edit.message);
  const go = (to: string): void => {
    const cleared = putMachine(['vice', 'clamp'], to === 'force' ? Number(force.toFixed(0)) : undefined);
    if (!cleared.ok) tell(cleared);
    else tell(putMachine(['vice', 'torque'], to === 'torque' ? (torque ?? TORQUE) : undefined));
  };
  return (
    <>
      <p class="sentence">
        The vice is done up{' '}
        <select
          class="choice"
          aria-label="How hard the vice is done up"
          value={way}
          onChange={(e) => go(e.currentTarget.value)}
        >
          <option value="firm" selected={way === 'firm'}>
            firmly by hand
          </option>
          <option value="torque" selected={way === 'torque'}>
            by a known pull
          </option>
          <option value="force" selected={way === 'force'}>
            to a known force
          </option>
        </select>
        {way === 'torque' && (
          <>
            {' '}
            of <Figure path={['vice', 'torque']} label="Torque on the vice’s handle, N·m" /> N·m on its handle
          </>
        )}
        {way === 'force' ? (
          <>
            {' '}
            of <Figure path={['vice', 'clamp']} label="Clamping force, N" step={100} /> N;{' '}
          </>
        ) : (
          <>: about {plain(force, 0)} N, by estimate; </>
        )}
        friction{' '}
        <Figure
          path={['vice', 'friction']}
          label="Friction between jaw and work"
          step={0.01}
          usual={FRICTION}
        />
        .
        {friction !== undefined && (
          <>
            {' '}
            <button
              type="button"
              class="quiet"
              aria-label={`Friction: back to the usual ${FRICTION}`}
              onClick={() => tell(putMachine(['vice', 'friction'], undefined))}
            >
              back to the usual {FRICTION}
            </button>
          </>
        )}
      </p>
      {trouble && (
        <p class="wrong" role="alert">
          {trouble}
        </p>
      )}
    </>
  );
};
