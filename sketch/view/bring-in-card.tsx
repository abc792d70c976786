import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { LeftOut } from '../exchange/drawing.ts';
import { writePart } from '../part/document.ts';
import type { Material, Part } from '../part/part.ts';
import { MATERIALS } from '../part/part.ts';
import { MM_PER_INCH, mmPer, plain } from '../part/units.ts';
import { type Bringing, bringing, letBe, readAgain } from './bring-in.ts';
import { completed, type DrawingAnswer, type ReadDrawing } from './drawing-answers.ts';
import { megabytes } from './files.ts';
import { NumberField } from './number-field.tsx';
import { ask, trouble, waiting } from './opening.ts';
import type { Store } from './store.ts';
import { layLinesUnder } from './underlay.ts';

/** A drawing on its way in: what it says, what it does not say, what was recognised and what was left out. */
export const BringInCard = ({ store }: { readonly store: Store }) => {
  const b = bringing.value;
  const card = useRef<HTMLElement>(null);
  const file = b?.file;
  // The field it was chosen in is gone: the keyboard goes on here.
  useLayoutEffect(() => {
    if (file) card.current?.focus({ preventScroll: true });
  }, [file]);
  if (!b) return null;
  const { answer } = b;
  return (
    <section ref={card} tabIndex={-1} class="bring-in" aria-label="Bring in a drawing" aria-busy={b.reading}>
      <h2>Bring in {b.file.name}</h2>
      <p role="status" class={b.reading ? 'progress' : 'hidden-words'}>
        {b.reading ? `Reading ${megabytes(b.file.size)} …` : 'Read.'}
      </p>
      {answer && <UnitChoice b={b} answer={answer} />}
      {answer?.kind === 'refused' && (
        <p class="wrong" role="alert">
          {answer.messages.slice(0, 4).join(' ')} The present part is untouched.
        </p>
      )}
      {answer?.kind === 'read' && <Found key={b.file.name} b={b} answer={answer} store={store} />}
      {(b.reading || answer?.kind !== 'read') && (
        <div class="file-row">
          <button type="button" onClick={letBe}>
            {b.reading ? 'Stop reading' : 'Let it be'}
          </button>
        </div>
      )}
    </section>
  );
};

const sizeText = (width: number, height: number): string => `${plain(width, 2)} × ${plain(height, 2)}`;

/** How long one of the file's units is. Where the file does not say, nothing is supposed. */
const UnitChoice = ({ b, answer }: { readonly b: Bringing; readonly answer: DrawingAnswer }) => {
  if (answer.kind === 'refused' && b.mmPerUnit === null) return null;
  const choices =
    answer.kind === 'question'
      ? answer.question.choices
      : [
          { name: 'mm', mmPerUnit: 1 },
          { name: 'inch', mmPerUnit: MM_PER_INCH },
        ];
  const size = (mmPerUnit: number): string => {
    if (answer.kind === 'refused') return '';
    const k = answer.kind === 'question' ? mmPerUnit : mmPerUnit / answer.mmPerUnit;
    const { width, height } = answer.kind === 'question' ? answer.question : answer;
    return `: ${sizeText(width * k, height * k)} mm`;
  };
  const stated = answer.kind === 'read' && b.mmPerUnit === null;
  return (
    <p>
      <label>
        {answer.kind === 'question'
          ? `The file does not say what its ${sizeText(answer.question.width, answer.question.height)} is measured in. One unit is `
          : 'One unit of the file is '}
        <select
          class="choice"
          aria-label="Unit of the drawing"
          value={b.mmPerUnit ?? ''}
          onChange={(e) =>
            readAgain({ mmPerUnit: e.currentTarget.value === '' ? null : Number(e.currentTarget.value) })
          }
        >
          <option value="" disabled={answer.kind === 'question'}>
            {answer.kind === 'question'
              ? 'choose …'
              : stated
                ? `as the file says (${plain(answer.mmPerUnit, 4)} mm)`
                : 'as the file says'}
          </option>
          {choices.map((c) => (
            <option key={c.name} value={c.mmPerUnit}>
              {c.name}
              {size(c.mmPerUnit)}
            </option>
          ))}
        </select>
      </label>
    </p>
  );
};

const counted = (list: readonly LeftOut[]): string =>
  list.map((l) => `${l.count} ${l.what}${l.count === 1 || /s$/.test(l.what) ? '' : 's'}`).join(', ');

interface FoundProps {
  readonly b: Bringing;
  readonly answer: ReadDrawing;
  readonly store: Store;
}

const Found = ({ b, answer, store }: FoundProps) => {
  const present = store.opened.value?.part;
  const [name, setName] = useState(b.file.name.replace(/\.[^.]*$/, ''));
  /** mm, so that it stays the same when the unit is chosen anew. */
  const [thickness, setThickness] = useState<number | null>(null);
  const [material, setMaterial] = useState<Material>(present?.bar.material ?? 'low-carbon steel');
  const k = mmPer(answer.unit);
  const unitWord = answer.unit === 'mm' ? 'mm' : 'in';
  const thick = thickness === null ? usualThickness(present, answer.unit) : Number(plain(thickness / k, 4));
  const takeIt = (): void => {
    if (!answer.document) return;
    const text = writePart(completed(answer.document, { name, thickness: thick, material }));
    trouble.value = null;
    ask(store, { name: b.file.name, text, unsaved: true, once: letBe });
  };
  const { fit } = answer;
  return (
    <>
      {answer.document && (
        <>
          {answer.picture && (
            <img
              class="bring-in-picture"
              src={`data:image/svg+xml,${encodeURIComponent(answer.picture)}`}
              alt={`The part that was recognised, ${sizeText(answer.width / k, answer.height / k)} ${unitWord}`}
            />
          )}
          <p>
            Recognised in {sizeText(answer.width / k, answer.height / k)} {unitWord}:{' '}
            <strong data-became>{counted(answer.became)}</strong>
            {answer.areaOff === null ? '' : `; its outline is off by ${areaText(answer.areaOff)}`}.
          </p>
        </>
      )}
      {answer.messages.map((m) => (
        <p key={m} class={answer.document ? 'remark' : 'wrong'}>
          {m}
        </p>
      ))}
      {answer.leftOut.length > 0 && (
        <div class="remark remark-warning" data-left-out>
          Left out:
          <ul>
            {answer.leftOut.slice(0, 12).map((l) => (
              <li key={l.what}>
                {l.count} × {l.what}
              </li>
            ))}
            {answer.leftOut.length > 12 && <li>and {answer.leftOut.length - 12} more kinds</li>}
          </ul>
        </div>
      )}
      {fit.curves > 0 && (
        <p>
          {fit.curves} {fit.curves === 1 ? 'curve was' : 'curves were'} followed by lines and arcs within{' '}
          <NumberField
            label="Curves are followed within, mm"
            value={b.tolerance}
            step={0.005}
            put={(v) => {
              if (typeof v !== 'number' || !(v >= 0.001 && v <= 1)) {
                return { ok: false, message: 'Between 0.001 and 1 mm.' };
              }
              readAgain({ tolerance: v });
              return { ok: true };
            }}
          />{' '}
          mm; the worst is {plain(fit.worst, 4)} mm off.
        </p>
      )}
      {answer.document && (
        <p>
          A drawing in plan does not say how thick the part is: it is{' '}
          <NumberField
            label={`Thickness, ${unitWord}`}
            value={thick}
            put={(v) => {
              if (typeof v !== 'number' || !(v > 0)) return { ok: false, message: 'More than 0 is wanted.' };
              setThickness(v * k);
              return { ok: true };
            }}
          />{' '}
          {unitWord} of{' '}
          <select
            class="choice"
            aria-label="Material"
            value={material}
            onChange={(e) => setMaterial(e.currentTarget.value as Material)}
          >
            {MATERIALS.map((m) => (
              <option key={m} value={m}>
                {m}
              </option>
            ))}
          </select>
          , and is called{' '}
          <NumberField
            label="Name of the part"
            words
            value={name}
            put={(v) => {
              if (String(v).trim() === '') return { ok: false, message: 'A name is wanted.' };
              setName(String(v));
              return { ok: true };
            }}
          />
          . Holes come in as plain clearance holes, right through; lands and depths are for you to add.
        </p>
      )}
      <div class="file-row">
        {answer.document && (
          <button
            type="button"
            class="main-button"
            onClick={takeIt}
            disabled={b.reading || waiting.value !== null}
          >
            Take it
          </button>
        )}
        {answer.lines.length > 0 && (
          <button
            type="button"
            onClick={() => {
              const { bar } = present ?? {};
              const middle = bar
                ? { x: bar.corner.x + bar.length / 2, y: bar.corner.y + bar.width / 2 }
                : { x: 0, y: 0 };
              layLinesUnder(b.file.name, answer.lines, middle, answer.width);
              letBe();
            }}
          >
            Lay it under the sheet
          </button>
        )}
        <button type="button" onClick={letBe}>
          Let it be
        </button>
      </div>
    </>
  );
};

/** The open part's own thickness, when it is in the same unit; else a common one. */
const usualThickness = (present: Part | undefined, unit: Part['unit']): number => {
  if (present?.unit === unit) return Number(plain(present.bar.thickness / mmPer(unit), 4));
  return unit === 'mm' ? 6 : 0.25;
};

const areaText = (mm2: number): string => (mm2 < 0.0005 ? 'less than 0.001 mm²' : `${plain(mm2, 3)} mm²`);
