import { useState } from 'preact/hooks';
import type { Json } from '../../sketch/draft/json.ts';
import type { Material } from '../../sketch/part/part.ts';
import { fileStem, readFile, saveText } from '../../sketch/view/files.ts';
import { NumberField } from '../../sketch/view/number-field.tsx';
import type { Edit } from '../../sketch/view/store.ts';
import { writeProfile } from '../machine/profile-document.ts';
import { Cutters } from './machine-drawers.tsx';
import { Figure } from './machine-figure.tsx';
import { HandWheels } from './machine-handwheels.tsx';
import { MaterialsOfMachine } from './machine-materials.tsx';
import { type MachineFile, machine, machineText, putMachine, takeMachine } from './machine-shop.ts';

/** A list of numbers as it is written: “200, 360, 640”; empty for none. */
const numbersIn = (text: string): readonly number[] | null => {
  const parts = text
    .split(/[,;\s]+/)
    .map((s) => s.trim())
    .filter((s) => s !== '');
  const numbers = parts.map(Number);
  return numbers.every(Number.isFinite) ? numbers : null;
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
export const MachineSection = (p: {
  readonly machines: readonly MachineFile[];
  /** What the open part is made of. */
  readonly material: Material;
}) => {
  const { machines } = p;
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
      <MaterialsOfMachine of={p.material} tell={tell} />
      <HandWheels tell={tell} />
      <Cutters cutters={profile.cutters} tell={tell} />
    </details>
  );
};
