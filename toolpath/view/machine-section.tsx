import { useState } from 'preact/hooks';
import { getIn, type Json, type JsonPath } from '../../sketch/draft/json.ts';
import { fileStem, readFile, saveText } from '../../sketch/view/files.ts';
import { NumberField } from '../../sketch/view/number-field.tsx';
import type { Edit } from '../../sketch/view/store.ts';
import type { Cutter } from '../machine/cutter.ts';
import { writeProfile } from '../machine/profile-document.ts';
import {
  type MachineFile,
  machine,
  machineDocument,
  machineText,
  putMachine,
  takeMachine,
} from './machine-shop.ts';

/** A list of numbers as it is written: “200, 360, 640”; empty for none. */
const numbersIn = (text: string): readonly number[] | null => {
  const parts = text
    .split(/[,;\s]+/)
    .map((s) => s.trim())
    .filter((s) => s !== '');
  const numbers = parts.map(Number);
  return numbers.every(Number.isFinite) ? numbers : null;
};

const Figure = ({ path, label }: { readonly path: JsonPath; readonly label: string }) => {
  const value = getIn(machineDocument(), path);
  return (
    <NumberField
      label={label}
      value={typeof value === 'number' ? value : ''}
      step={1}
      put={(v) =>
        typeof v === 'number' ? putMachine(path, v) : { ok: false, message: 'A number is wanted here.' }
      }
      testId={`machine.${path.join('.')}`}
    />
  );
};

/** A list written in one field. */
const ListField = (p: {
  readonly label: string;
  readonly value: string;
  readonly put: (numbers: readonly number[]) => Edit;
  readonly testId: string;
}) => (
  <NumberField
    label={p.label}
    value={p.value}
    words
    put={(v) => {
      const numbers = numbersIn(String(v));
      return numbers === null
        ? { ok: false, message: 'Numbers are wanted here, with commas between.' }
        : p.put(numbers);
    }}
    testId={p.testId}
  />
);

/** The machine everything is planned for: which one, what it can do, and what lies in its drawers. All in mm. */
export const MachineSection = ({ machines }: { readonly machines: readonly MachineFile[] }) => {
  const [trouble, setTrouble] = useState<string | null>(null);
  const profile = machine.value;
  const own =
    machineText.value !== null &&
    !machines.some((m) => m.name === profile.name && m.text === machineText.value);
  const tell = (edit: Edit): void => setTrouble(edit.ok ? null : edit.message);
  return (
    <details class="machine">
      <summary>
        Machine: {profile.name}
        {own ? ' (yours)' : ''}
      </summary>
      <div class="file-row">
        <select
          aria-label="Choose a machine"
          value=""
          onChange={(e) => {
            const chosen = e.currentTarget.value;
            e.currentTarget.value = '';
            if (chosen === 'example') tell(takeMachine(null));
            const file = machines.find((m) => m.name === chosen);
            if (file) tell(takeMachine(file.text));
          }}
        >
          <option value="">Begin from</option>
          <option value="example">the example mill</option>
          {machines.map((m) => (
            <option key={m.name} value={m.name}>
              {m.name}
            </option>
          ))}
        </select>
        <label class="open-file">
          Open
          <input
            class="hidden-words"
            type="file"
            accept=".json,application/json"
            aria-label="Open a machine file"
            onChange={async (e) => {
              const input = e.currentTarget;
              const file = input.files?.[0];
              if (!file) return;
              const read = await readFile(file);
              input.value = '';
              if (!read.ok) {
                setTrouble(read.message);
                return;
              }
              const edit = takeMachine(read.text);
              tell(
                edit.ok
                  ? edit
                  : {
                      ok: false,
                      message: `“${file.name}” was not taken. ${edit.message} The present machine is untouched.`,
                    },
              );
            }}
          />
        </label>
        <button
          type="button"
          onClick={() =>
            saveText(`${fileStem(profile.name)}-machine.json`, writeProfile(profile), 'application/json')
          }
        >
          Save machine
        </button>
      </div>
      {trouble && (
        <p class="wrong" role="alert">
          {trouble}
        </p>
      )}
      <p class="sentence">
        Called{' '}
        <NumberField
          label="Name of the machine"
          value={profile.name}
          words
          put={(v) => putMachine(['name'], String(v))}
        />
        , in mm. The spindle turns <Figure path={['spindle', 'least']} label="Slowest spindle speed" /> to{' '}
        <Figure path={['spindle', 'most']} label="Fastest spindle speed" /> times a minute at{' '}
        <Figure path={['spindle', 'power']} label="Spindle power, W" /> W; belts or gears give{' '}
        <ListField
          label="Speeds of the belts or gears"
          value={profile.spindle.steps.join(', ')}
          put={(steps) => putMachine(['spindle', 'steps'], steps as Json)}
          testId="machine.spindle.steps"
        />
        {profile.spindle.steps.length === 0 && ' (any speed between)'}. Feeds up to{' '}
        <Figure path={['feed', 'most']} label="Fastest feed" /> mm/min sideways and{' '}
        <Figure path={['feed', 'mostPlunge']} label="Fastest feed downward" /> down, rapids{' '}
        <Figure path={['feed', 'rapid']} label="Rapid" />. Travels{' '}
        <Figure path={['travel', 'x']} label="Travel in X" /> ×{' '}
        <Figure path={['travel', 'y']} label="Travel in Y" /> ×{' '}
        <Figure path={['travel', 'z']} label="Travel in Z" />.
      </p>
      <p class="sentence">
        The vice has jaws <Figure path={['vice', 'jawWidth']} label="Length of the jaws" /> long and{' '}
        <Figure path={['vice', 'jawHeight']} label="Height of the jaws" /> high and opens{' '}
        <Figure path={['vice', 'opening']} label="Opening of the vice" />. Parallels{' '}
        <ListField
          label="Heights of the parallels"
          value={profile.parallels.map((p) => p.height).join(', ')}
          put={(heights) =>
            putMachine(
              ['parallels'],
              heights.map((height) => ({
                height,
                thickness: profile.parallels.find((p) => p.height === height)?.thickness ?? 3,
              })),
            )
          }
          testId="machine.parallels"
        />{' '}
        high.
      </p>
      <HandWheels tell={tell} />
      <Cutters cutters={profile.cutters} tell={tell} />
    </details>
  );
};

/** A screw to begin from: 2 mm a turn, 100 lines, or a tenth of an inch. */
const SCREW = {
  mm: { pitch: 2, divisions: 100, direction: 'rises', backlash: 0.1 },
  inch: { pitch: 0.1, divisions: 100, direction: 'rises', backlash: 0.004 },
} as const;

/** The handwheels, for a machine that a hand drives. */
const HandWheels = ({ tell }: { readonly tell: (edit: Edit) => void }) => {
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

const KINDS: readonly Cutter['kind'][] = ['endmill', 'drill', 'reamer', 'spot', 'tap'];

/** What lies in the drawers; cutters are added and taken away, and their figures changed in place. */
const Cutters = ({ cutters, tell }: { cutters: readonly Cutter[]; tell: (edit: Edit) => void }) => {
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
              aria-label={`Take ${c.name} out of the drawer`}
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
