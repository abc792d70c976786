import type { Edit } from '../../sketch/view/store.ts';
import { Figure } from './machine-figure.tsx';
import { machine, putMachine } from './machine-shop.ts';

/** A screw to begin from: 2 mm a turn, 100 lines, or a tenth of an inch. */
const SCREW = {
  mm: { pitch: 2, divisions: 100, direction: 'rises', backlash: 0.1 },
  inch: { pitch: 0.1, divisions: 100, direction: 'rises', backlash: 0.004 },
} as const;

/** The handwheels, for a machine that a hand drives. */
export const HandWheels = ({ tell }: { readonly tell: (edit: Edit) => void }) => {
  const { hand } = machine.value;
  const driven = hand === undefined ? 'programs' : hand.readout ? 'readout' : 'dials';
  const begin = (unit: 'mm' | 'inch', readout: boolean): Edit =>
    putMachine(['hand'], { unit, readout, x: SCREW[unit], y: SCREW[unit], z: SCREW[unit] });
  return (
    <>
      <p class="sentence">
        It is driven by{' '}
        <select
          class="choice"
          aria-label="What drives the machine"
          value={driven}
          onChange={(e) => {
            const to = e.currentTarget.value;
            if (to === 'programs') tell(putMachine(['hand'], undefined));
            else if (hand) tell(putMachine(['hand', 'readout'], to === 'readout'));
            else tell(begin('mm', to === 'readout'));
          }}
        >
          <option value="programs" selected={driven === 'programs'}>
            programs only
          </option>
          <option value="readout" selected={driven === 'readout'}>
            handwheels, with a readout
          </option>
          <option value="dials" selected={driven === 'dials'}>
            handwheels and their dials
          </option>
        </select>
        {hand && (
          <>
            , marked in{' '}
            <select
              class="choice"
              aria-label="Unit of the dials"
              value={hand.x.unit}
              onChange={(e) => tell(begin(e.currentTarget.value as 'mm' | 'inch', hand.readout))}
            >
              <option value="mm" selected={hand.x.unit === 'mm'}>
                mm
              </option>
              <option value="inch" selected={hand.x.unit === 'inch'}>
                inches
              </option>
            </select>
          </>
        )}
        .
      </p>
      {hand && (
        <ul class="cutters">
          {(['x', 'y', 'z'] as const).map((axis) => (
            <li key={axis}>
              {axis.toUpperCase()}:{' '}
              <Figure path={['hand', axis, 'pitch']} label={`Travel of one turn in ${axis}`} /> a turn,{' '}
              <Figure path={['hand', axis, 'divisions']} label={`Divisions of the dial of ${axis}`} /> lines,
              lost motion <Figure path={['hand', axis, 'backlash']} label={`Lost motion in ${axis}`} />;{' '}
              <select
                class="choice"
                aria-label={`What ${axis} does as the figures of its dial rise`}
                value={hand[axis].direction}
                onChange={(e) => tell(putMachine(['hand', axis, 'direction'], e.currentTarget.value))}
              >
                {(['rises', 'falls'] as const).map((d) => (
                  <option key={d} value={d} selected={hand[axis].direction === d}>
                    {d}
                  </option>
                ))}
              </select>{' '}
              with the dial’s figures
            </li>
          ))}
        </ul>
      )}
    </>
  );
};
